// The bench page's view that is turned: it takes the place of a step's drawing until its button is pressed again. Its
// library is unpacked when it is first asked for.
import { packed } from '../../pocket/page/packing.mjs';
import { showStep } from '../../pocket/page/turned_step.mjs';
import { turnedView } from '../../pocket/page/view.mjs';

export function turning() {
  const source = document.getElementById('solids');
  const buttons = [...document.querySelectorAll('button.turn')];
  const can = source && window.WebGLRenderingContext && window.DecompressionStream;
  const host = document.createElement('div');
  host.className = 'view';
  const dark = () => window.matchMedia('(prefers-color-scheme: dark)').matches;
  let view = null;
  let data = null;
  let starting = null;
  let open = null;

  async function library() {
    const script = document.createElement('script');
    script.textContent = new TextDecoder().decode(await packed('library'));
    document.head.append(script);
    data = JSON.parse(source.textContent);
    view = turnedView(window.THREE, host, { scrolls: true, dark });
    if (!view) { for (const button of buttons) { button.hidden = true; } }
  }
  function close() {
    if (!open) { return; }
    host.remove();
    open.figure.classList.remove('turning');
    open.button.setAttribute('aria-pressed', 'false');
    for (const zoom of open.zooms) { zoom.remove(); }
    open = null;
  }
  async function show(button) {
    const again = open && open.button === button;
    close();
    if (again) { return; }
    const place = button.closest('.seen');
    open = { button, figure: place.querySelector('figure'), zooms: [] };
    const wanted = open;
    button.setAttribute('aria-pressed', 'true');
    starting = starting || library();
    await starting;
    if (open !== wanted) { return; }
    if (!view) { close(); return; }
    view.name(source.dataset.name.replace('{}', open.figure.querySelector('svg').getAttribute('aria-label')));
    open.figure.prepend(host);
    open.figure.classList.add('turning');
    button.after(document.getElementById('zoom').content.cloneNode(true));
    open.zooms = [...place.querySelectorAll('button.zoom')];
    for (const zoom of open.zooms) { zoom.addEventListener('click', () => view.zoom(Number(zoom.dataset.by))); }
    showStep(view, data.numbers, data.steps[button.dataset.step]);
    view.canvas.focus({ preventScroll: true });
  }
  for (const button of can ? buttons : []) {
    button.hidden = false;
    button.addEventListener('click', () => show(button));
  }
}
