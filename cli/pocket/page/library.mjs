// The library that the turned view is drawn with. It is packed into the page and unpacked when it is first wanted.
import { app } from './app.mjs';
import { packed } from './packing.mjs';

export const space = {
  state: 'new',
  library: null,
  want() {
    if (space.state !== 'new') { return; }
    space.state = 'waiting';
    const settled = (library) => {
      space.library = library;
      space.state = 'ready';
      app.render();
    };
    packed('space').then((bytes) => {
      const address = URL.createObjectURL(new Blob([bytes], { type: 'text/javascript' }));
      const script = document.createElement('script');
      script.onload = () => { URL.revokeObjectURL(address); settled(window.THREE || null); };
      script.onerror = () => settled(null);
      script.src = address;
      document.head.append(script);
    }).catch(() => settled(null));
  },
};
