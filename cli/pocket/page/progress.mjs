// How far a build is: the contacts that are made, whoever ticked them in whichever order.

export function isDone(step, made) { return step.contacts.length > 0 && step.contacts.every((contact) => made.has(contact)); }

/// A step as the hands see it where it is known how the work lies, else as the frame will stand.
export function stepText(step) { return step.text_in_pose || step.text; }

/// {done, inOrder, ahead}: how many steps from the first on are done; whether nothing else is made; the numbers of steps
/// that are done before their turn.
export function standing(steps, made) {
  let done = 0;
  while (done < steps.length && isDone(steps[done], made)) { done += 1; }
  const counted = new Set(steps.slice(0, done).flatMap((step) => step.contacts));
  const ahead = steps.slice(done).filter((step) => isDone(step, made)).map((step) => step.number);
  return { done, inOrder: [...made].every((contact) => counted.has(contact)), ahead };
}

/// Ticks that step, or takes its tick away.
export function ticked(step, made, on) {
  const after = new Set(made);
  for (const contact of step.contacts) { if (on) { after.add(contact); } else { after.delete(contact); } }
  return after;
}

/// What the program is told is built: the number of steps where they are done in their order, else every contact by name.
export function builtArgument(steps, made) {
  const { done, inOrder } = standing(steps, made);
  return inOrder ? String(done) : [...made].sort().join(', ');
}

/// Contacts that another frame does not have are forgotten.
export function stillThere(made, contacts) {
  const known = new Set(contacts);
  return new Set([...made].filter((contact) => known.has(contact)));
}

/// Parts that are joined to something, and with them those that `step` moves and holds: what a picture of that moment
/// shows. Numbers of parts.
export function partsThere(numbers, made, step) {
  const shown = new Set();
  for (const { contact, between } of numbers.contacts) {
    if (made.has(contact)) { for (const index of between) { if (index >= 0) { shown.add(index); } } }
  }
  const labels = new Set(step ? [...step.moving, ...step.holding] : []);
  numbers.parts.forEach((part, index) => { if (labels.has(part.label) || labels.has(part.id)) { shown.add(index); } });
  return [...shown].sort((a, b) => a - b);
}
export function indicesOf(numbers, names) {
  const wanted = new Set(names);
  return numbers.parts.map((part, index) => (wanted.has(part.label) || wanted.has(part.id) ? index : -1)).filter((index) => index >= 0);
}

/// Parts that an order lets one forget: no step in between reminds of them before it is too late. The dearest first.
export function forgettable(order) {
  return (order.steps || []).flatMap((step) => step.last_calls || []).filter((call) => call.trap && (call.asked_for_step === null || call.asked_for_step > call.last_call_step))
    .sort((a, b) => b.price_moves - a.price_moves || a.last_call_step - b.last_call_step);
}
