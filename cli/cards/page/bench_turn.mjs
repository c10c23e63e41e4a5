// The bench page's view that is turned: it takes the place of a step's drawing until its button is pressed again. What
// draws it is cli/pocket/page/view.mjs, which stands before this in the page; its library is unpacked when it is first
// asked for.
{
  const source = document.getElementById('solids');
  const packed = document.getElementById('library');
  const buttons = [...document.querySelectorAll('button.turn')];
  const can = source && packed && window.WebGLRenderingContext && window.DecompressionStream;
  const host = document.createElement('div');
  host.className = 'view';
  const dark = () => window.matchMedia('(prefers-color-scheme: dark)').matches;
  let view = null;
  let data = null;
  let starting = null;
  let open = null;

  async function library() {
    const bytes = Uint8Array.from(atob(packed.textContent.trim()), (c) => c.charCodeAt(0));
    const script = document.createElement('script');
    script.textContent = await new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'))).text();
    document.head.append(script);
    data = JSON.parse(source.textContent);
    view = turnedView(THREE, host, { scrolls: true, dark });
    if (!view) { for (const button of buttons) { button.hidden = true; } }
  }
  const close = () => {
    if (!open) { return; }
    host.remove();
    open.figure.classList.remove('turning');
    open.button.setAttribute('aria-pressed', 'false');
    for (const zoom of open.zooms) { zoom.remove(); }
    open = null;
  };
  async function show(button) {
    const again = open && open.button === button;
    close();
    if (again) { return; }
    const place = button.parentNode;
    open = { button, figure: place.querySelector('figure'), zooms: [] };
    const wanted = open;
    button.setAttribute('aria-pressed', 'true');
    starting = starting || library();
    await starting;
    if (open !== wanted) { return; }
    if (!view) { close(); return; }
    const [shown, fresh, seen, arrow] = data.steps[button.dataset.step];
    view.name(source.dataset.name.replace('{}', open.figure.querySelector('svg').getAttribute('aria-label')));
    open.figure.prepend(host);
    open.figure.classList.add('turning');
    place.append(document.getElementById('zoom').content.cloneNode(true));
    open.zooms = [...place.querySelectorAll('button.zoom')];
    for (const zoom of open.zooms) { zoom.addEventListener('click', () => view.zoom(Number(zoom.dataset.by))); }
    const lies = seen && seen.lies;
    view.load(lain(data.numbers, lies));
    view.home();
    view.show(shown, fresh, seen, arrow && { turns: arrow.turns, at: lainPoint(arrow.at, lies), along: lainPoint(arrow.along, lies) });
    view.canvas.focus({ preventScroll: true });
  }
  for (const button of can ? buttons : []) {
    button.hidden = false;
    button.addEventListener('click', () => show(button));
  }
}
