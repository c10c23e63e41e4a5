// The bench page's view that is turned: it takes the place of a step's drawing until its button is pressed again. What
// draws it is cli/pocket/page/view.mjs, which stands before this in the page.
{
  const source = document.getElementById('solids');
  const host = document.createElement('div');
  host.className = 'view';
  const dark = () => window.matchMedia('(prefers-color-scheme: dark)').matches;
  const view = source && typeof THREE !== 'undefined' ? turnedView(THREE, host, { scrolls: true, dark }) : null;
  const data = view ? JSON.parse(source.textContent) : null;
  if (view) { view.load(data.numbers); }
  let open = null;
  const close = () => {
    if (!open) { return; }
    host.remove();
    open.figure.classList.remove('turning');
    open.button.setAttribute('aria-pressed', 'false');
    for (const zoom of open.zooms) { zoom.hidden = true; }
    open = null;
  };
  for (const button of view ? document.querySelectorAll('button.turn') : []) {
    button.hidden = false;
    const place = button.parentNode;
    const zooms = [...place.querySelectorAll('button.zoom')];
    for (const zoom of zooms) { zoom.addEventListener('click', () => view.zoom(Number(zoom.dataset.by))); }
    button.addEventListener('click', () => {
      const again = open && open.button === button;
      close();
      if (again) { return; }
      const figure = place.querySelector('figure');
      view.name(button.dataset.name);
      figure.prepend(host);
      figure.classList.add('turning');
      button.setAttribute('aria-pressed', 'true');
      for (const zoom of zooms) { zoom.hidden = false; }
      open = { figure, button, zooms };
      view.home();
      view.show(...data.steps[button.dataset.step]);
      view.canvas.focus({ preventScroll: true });
    });
  }
}
