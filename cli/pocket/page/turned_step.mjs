// A step in the view that is turned: seen from where its drawing is seen, lying as the work lies, with the arrow of what
// moves.
import { lain, lainPoint } from './view.mjs';

/// `card`: {shown, new, view, arrow} as the program gives them of a step; the whole frame has only the first two.
export function showStep(view, numbers, { shown, new: fresh, view: from, arrow }) {
  const lies = from && from.lies;
  view.load(lain(numbers, lies));
  view.home();
  view.show(shown, fresh, from, arrow && { turns: arrow.turns, at: lainPoint(arrow.at_mm, lies), along: lainPoint(arrow.along_mm, lies) });
}
