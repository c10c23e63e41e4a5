// A frame that is turned by finger, mouse or keys. Drawn by three.js from the numbers that the program gives
// (`dryfit show FRAME -o NAME.json`). Of the page it knows only the element that it is put into.

const TONES = {
  pipe: [0.84, 0.87, 0.90], board: [0.95, 0.86, 0.69], fitting: [0.55, 0.62, 0.69], strap: [0.45, 0.48, 0.52],
  fresh: [0.93, 0.42, 0.12], chosen: [0.16, 0.52, 0.86],
};
const FROM = { around: 28, above: 24, zoom: 1 };
const SHAPES = 300; // that are kept from one picture to the next

/// A point of the room as three.js has it.
function point(THREE, of, first = 0) { return new THREE.Vector3(of[first], of[first + 1], of[first + 2]); }

/// The two directions of the screen and the one toward the eye, for an eye `around` degrees from the front to the right
/// and `above` degrees up.
export function eye(around, above) {
  const [t, e] = [around * Math.PI / 180, above * Math.PI / 180];
  const right = [Math.cos(t), Math.sin(t), 0];
  const toward = [Math.sin(t) * Math.cos(e), -Math.cos(t) * Math.cos(e), Math.sin(e)];
  const up = [toward[1] * right[2] - toward[2] * right[1], toward[2] * right[0] - toward[0] * right[2],
    toward[0] * right[1] - toward[1] * right[0]];
  return { right, up, toward };
}

/// A point of the frame where it comes when the frame's own right, back and up point along the rows of `lies`.
export function lainPoint(of, lies) {
  return lies ? [0, 1, 2].map((k) => of[0] * lies[0][k] + of[1] * lies[1][k] + of[2] * lies[2][k]) : of;
}
/// The numbers of a frame that lies so: quarter turns leave boxes square to the room.
export function lain(numbers, lies) {
  const still = (thing) => thing;
  const laid = (thing) => ({
    ...thing,
    bodies: thing.bodies.map((body) => [...lainPoint(body.slice(0, 3), lies), ...lainPoint(body.slice(3, 6), lies), ...body.slice(6)]),
  });
  const turned = lies ? laid : still;
  return { ...numbers, parts: numbers.parts.map(turned), fixtures: numbers.fixtures.map(turned) };
}

/// Which of the boxes can be shown without lying on one another, first come first served. {x, y, width, height}: middle
/// and size.
export function roomFor(boxes) {
  const kept = [];
  return boxes.map((box) => {
    const free = kept.every((other) => Math.abs(box.x - other.x) * 2 >= box.width + other.width
      || Math.abs(box.y - other.y) * 2 >= box.height + other.height);
    if (free) { kept.push(box); }
    return free;
  });
}

/// Puts a canvas into `host` and gives {load, show, choose, look, draw, dispose}, or null where the browser draws nothing
/// in space. `options`: {name, onPick(index), onEnd(part index, end), scrolls, dark(), drawn()}: `drawn` is called each
/// time that the frame was drawn anew. With `scrolls` a finger that
/// moves up or down scrolls the page, and turns the view only sideways.
export function turnedView(THREE, host, options = {}) {
  const canvas = document.createElement('canvas');
  let gl = null;
  try { gl = canvas.getContext('webgl', { antialias: true, preserveDrawingBuffer: true }); } catch (error) { gl = null; }
  if (!gl || !THREE) { return null; }
  const labels = document.createElement('div');
  labels.className = 'labels';
  labels.setAttribute('aria-hidden', 'true');
  host.append(canvas, labels);
  canvas.tabIndex = 0;
  canvas.setAttribute('role', 'img');
  canvas.setAttribute('aria-label', options.name || '');
  canvas.style.touchAction = options.scrolls ? 'pan-y' : 'none';

  const renderer = new THREE.WebGLRenderer({ canvas, context: gl, antialias: true, preserveDrawingBuffer: true });
  const camera = new THREE.OrthographicCamera();
  const lamp = new THREE.DirectionalLight(0xffffff, 0.45); // over the viewer's left shoulder, whatever is turned
  lamp.position.set(-0.4, 0.55, 0.75);
  camera.add(lamp, lamp.target);
  const materials = {};
  for (const [name, tone] of Object.entries(TONES)) {
    // Pushed back a little, so that edges lie on the faces.
    materials[name] = new THREE.MeshLambertMaterial({ color: new THREE.Color(...tone), polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  }
  const edge = new THREE.LineBasicMaterial({ color: new THREE.Color(0.1, 0.1, 0.12) });
  const ground = new THREE.LineBasicMaterial({ color: new THREE.Color(0.6, 0.6, 0.58) });
  // Over all bodies: the part that it is of would hide it.
  const way = new THREE.MeshBasicMaterial({ color: new THREE.Color(0.1, 0.1, 0.12), depthTest: false, transparent: true });
  const openEnd = new THREE.MeshBasicMaterial({ color: new THREE.Color(0.82, 0.12, 0.33), transparent: true, opacity: 0.85 });

  let numbers = null;
  let scene = null;
  let solids = [];
  let shown = [];
  let fresh = new Set();
  let chosen = -1;
  let middle = new THREE.Vector3();
  let focus = new THREE.Vector3();
  let size = 1;
  let reach = 1;
  let corners = [];
  let arrow = null;
  let ends = false;
  let tags = true;
  let at = { ...FROM };
  const drawn = { labels: [], ends: [] };

  // Shapes by their measures: most parts of a frame are alike, and most are those of the picture before.
  const shapes = new Map();
  const kept = new Set();
  function shapeOf(kind, measures, make) {
    const key = kind + measures.map((value) => value.toFixed(3));
    if (!shapes.has(key)) {
      const shape = make();
      shapes.set(key, { shape, edges: new THREE.EdgesGeometry(shape, 30) });
      kept.add(shape).add(shapes.get(key).edges);
    }
    return shapes.get(key);
  }
  function geometryOf(body) {
    const along = point(THREE, body, 3).sub(point(THREE, body));
    const sides = [Math.abs(along.x), Math.abs(along.y), Math.abs(along.z)];
    return body.length === 7 ? shapeOf('pipe', [body[6], along.length()], () => new THREE.CylinderBufferGeometry(body[6], body[6], along.length(), 24))
      : shapeOf('box', sides, () => new THREE.BoxBufferGeometry(...sides));
  }
  function addBody(body, material, index) {
    const [a, b] = [point(THREE, body), point(THREE, body, 3)];
    const { shape, edges } = geometryOf(body);
    const solid = new THREE.Mesh(shape, material);
    solid.position.copy(a).add(b).multiplyScalar(0.5);
    if (body.length === 7) { solid.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), b.clone().sub(a).normalize()); }
    solid.add(new THREE.LineSegments(edges, edge));
    solid.userData.part = index;
    scene.add(solid);
    solids.push(solid);
  }
  // Floor and walls are lines alone: from every side the frame is seen through them.
  function addPatch(body) {
    const [a, b] = [body.slice(0, 3), body.slice(3, 6)];
    const flat = [0, 1, 2].find((k) => a[k] === b[k]);
    const [u, v] = [flat === 0 ? 1 : 0, flat === 2 ? 1 : 2];
    const gap = 18;
    const lines = [];
    const place = (x, y) => { const p = a.slice(); p[u] = x; p[v] = y; return p; };
    const line = (x0, y0, x1, y1) => { lines.push(...place(x0, y0), ...place(x1, y1)); };
    line(a[u], a[v], b[u], a[v]);
    line(b[u], a[v], b[u], b[v]);
    line(b[u], b[v], a[u], b[v]);
    line(a[u], b[v], a[u], a[v]);
    for (let c = gap * Math.ceil((a[u] + a[v] + 0.1) / gap); c < b[u] + b[v]; c += gap) {
      const [from, till] = [Math.max(a[u], c - b[v]), Math.min(b[u], c - a[v])];
      line(from, c - from, till, c - till);
    }
    const shape = new THREE.BufferGeometry();
    shape.setAttribute('position', new THREE.Float32BufferAttribute(lines, 3));
    scene.add(new THREE.LineSegments(shape, ground));
  }
  // Round the axis of a thread, in the sense in which it goes home, or beside what slides.
  function addArrow(room) {
    const along = new THREE.Vector3(...arrow.along);
    const length = along.length();
    if (length === 0) { return; }
    along.divideScalar(length);
    const frame = new THREE.Group();
    const thick = Math.max(2, 0.006 * room);
    const bar = (shape) => frame.add(new THREE.Mesh(shape, way));
    const tip = new THREE.Mesh(new THREE.ConeBufferGeometry(2.6 * thick, 7 * thick, 16), way);
    if (arrow.turns) {
      const radius = Math.max(24, 0.035 * room);
      bar(new THREE.TorusBufferGeometry(radius, thick, 8, 40, 1.5 * Math.PI));
      tip.position.set(0, -radius, 0);
      tip.rotation.z = -Math.PI / 2; // at three quarters the circle goes right
      frame.quaternion.setFromUnitVectors(new THREE.Vector3(0, 0, 1), along);
      frame.position.set(...arrow.at);
    } else {
      const reach = Math.max(8 * thick, Math.min(length, 0.25 * room));
      const shaft = new THREE.CylinderBufferGeometry(thick, thick, reach, 12);
      bar(shaft);
      tip.position.set(0, reach / 2, 0);
      frame.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), along);
      // Before it gets there, so that it does not stand in what it shows the way of.
      frame.position.set(...arrow.at).addScaledVector(along, -reach / 2 - 10 * thick);
    }
    frame.add(tip);
    for (const piece of frame.children) { piece.renderOrder = 1; }
    scene.add(frame);
  }
  function clear() {
    if (scene) { scene.traverse((thing) => { if (thing.geometry && !kept.has(thing.geometry)) { thing.geometry.dispose(); } }); }
    scene = null;
    solids = [];
    if (shapes.size > SHAPES) { forgetShapes(); }
  }
  function forgetShapes() {
    for (const shape of kept) { shape.dispose(); }
    kept.clear();
    shapes.clear();
  }
  function middleOf(index) {
    const box = new THREE.Box3();
    for (const body of numbers.parts[index].bodies) { box.expandByPoint(point(THREE, body)); box.expandByPoint(point(THREE, body, 3)); }
    return box.getCenter(new THREE.Vector3());
  }

  function build() {
    clear();
    if (!numbers) { return; }
    scene = new THREE.Scene();
    scene.add(camera, new THREE.AmbientLight(0xffffff, 0.55));
    const box = new THREE.Box3();
    const parts = numbers.parts.length;
    for (const index of shown) {
      const part = index < parts ? numbers.parts[index] : numbers.fixtures[index - parts];
      if (!part) { continue; }
      const kind = part.kind === 'pipe' || part.kind === 'board' ? part.kind : index < parts ? 'fitting' : 'strap';
      for (const body of part.bodies) {
        const [a, b] = [point(THREE, body), point(THREE, body, 3)];
        if (a.distanceTo(b) === 0) { continue; }
        box.union(new THREE.Box3(a.clone().min(b), a.clone().max(b)).expandByScalar(body[6] || 0));
        if (part.kind === 'patch') { addPatch(body); } else {
          addBody(body, materials[index === chosen ? 'chosen' : fresh.has(index) ? 'fresh' : kind], index);
        }
      }
    }
    if (arrow) { addArrow(box.isEmpty() ? 100 : box.getSize(new THREE.Vector3()).length()); }
    drawn.ends = [];
    if (ends) {
      const radius = Math.max(8, Math.min(30, 0.02 * box.getSize(new THREE.Vector3()).length()));
      const { shape } = shapeOf('end', [radius], () => new THREE.SphereBufferGeometry(radius, 16, 12));
      for (const index of shown) {
        for (const end of (numbers.parts[index] || { free_ends: [] }).free_ends) {
          const mark = new THREE.Mesh(shape, openEnd);
          mark.position.copy(point(THREE, end.at_mm));
          mark.userData.end = [index, end];
          scene.add(mark);
          drawn.ends.push(mark);
        }
      }
    }
    if (box.isEmpty()) { box.expandByPoint(new THREE.Vector3()); }
    box.getCenter(middle);
    size = box.getSize(new THREE.Vector3()).length() || 1;
    corners = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => new THREE.Vector3(i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y, i & 4 ? box.max.z : box.min.z).sub(middle));
    const marked = shown.filter((index) => index < parts && (index === chosen || (chosen < 0 && fresh.has(index))));
    focus = middle.clone();
    if (marked.length > 0) {
      focus.set(0, 0, 0);
      for (const index of marked) { focus.add(middleOf(index)); }
      focus.multiplyScalar(1 / marked.length);
    }
  }
  // The scale is that at which nothing is cropped however the frame is turned, so that nothing swells meanwhile: across
  // it never takes more than its plan's diagonal, up and down never more than its longest.
  function measure(width, height) {
    const plan = Math.max(1, ...corners.map((corner) => Math.hypot(corner.x, corner.y)));
    const long = Math.max(1, ...corners.map((corner) => corner.length()));
    // Names stand beside pipes, also at the edge.
    const em = parseFloat(getComputedStyle(labels).fontSize) || 14;
    const beside = tags ? em * (2.1 + 0.62 * Math.max(1, ...shown.map((i) => (numbers.parts[i] || { label: '' }).label.length))) : 0;
    const [free, tall] = [Math.max(0.5 * width, width - 2 * beside), Math.max(0.5 * height, height - (tags ? 2.7 * em : 0))];
    reach = Math.max(long * height / tall, plan * height / free) * 1.04;
  }

  function draw() {
    const [width, height] = [canvas.clientWidth, canvas.clientHeight];
    if (!scene || width === 0 || height === 0) { return; }
    // Set anew, even to the same, it would be made anew.
    const dots = window.devicePixelRatio || 1;
    if (renderer.getPixelRatio() !== dots) { renderer.setPixelRatio(dots); }
    if (canvas.width !== Math.floor(width * dots) || canvas.height !== Math.floor(height * dots)) { renderer.setSize(width, height, false); }
    renderer.setClearColor(options.dark && options.dark() ? 0x2b2f36 : 0xffffff, 1);
    edge.color.set(options.dark && options.dark() ? 0x0c0d10 : 0x1a1a1f);
    way.color.set(options.dark && options.dark() ? 0xf2f2ef : 0x1a1a1f);
    const seen = eye(at.around, at.above);
    camera.up.set(...seen.up);
    // Enlarged, the view keeps what is new or chosen where it is on the screen.
    const centre = middle.clone().lerp(focus, at.zoom > 1 ? 1 - 1 / at.zoom : 0);
    camera.position.set(...seen.toward).multiplyScalar(2 * size).add(centre);
    camera.lookAt(centre);
    measure(width, height);
    camera.top = reach / at.zoom;
    camera.right = camera.top * width / height;
    camera.left = -camera.right;
    camera.bottom = -camera.top;
    camera.near = 0;
    camera.far = 4 * size;
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
    renderer.render(scene, camera);
    placeLabels(width, height);
    if (options.drawn) { options.drawn(); }
  }
  function placeLabels(width, height) {
    labels.replaceChildren();
    if (!tags || !numbers) { return; }
    // What is new or chosen is named first, then boards, then pipes; a label that would lie on another is left out.
    const weight = (index) => (index === chosen || fresh.has(index) ? 0 : numbers.parts[index].kind === 'board' ? 1
      : numbers.parts[index].kind === 'pipe' ? 2 : 3);
    const named = shown.filter((index) => index < numbers.parts.length).sort((a, b) => weight(a) - weight(b) || a - b);
    const em = parseFloat(getComputedStyle(labels).fontSize) || 14;
    const texts = new Set();
    const tagsMade = [];
    for (const index of named) {
      const label = numbers.parts[index].label;
      if (texts.has(label)) { continue; }
      texts.add(label);
      const place = middleOf(index).project(camera);
      // A label on a pipe or fitting would hide it: it stands beside it, away from the middle.
      const wide = em * (0.62 * label.length + 0.9);
      const aside = numbers.parts[index].kind === 'board' ? 0 : Math.sign(place.x || 1) * (wide / 2 + 0.8 * em);
      tagsMade.push({ index, label, wide, x: (place.x + 1) / 2 * width + aside, y: (1 - place.y) / 2 * height });
    }
    const boxes = tagsMade.map((tag) => ({ x: tag.x, y: tag.y, width: tag.wide, height: 1.35 * em }));
    roomFor(boxes).forEach((free, i) => {
      const tag = tagsMade[i];
      if (!free || tag.x < 4 || tag.y < 4 || tag.x > width - 4 || tag.y > height - 4) { return; }
      const span = document.createElement('span');
      span.textContent = tag.label;
      span.className = tag.index === chosen ? 'chosen' : fresh.has(tag.index) ? 'fresh' : '';
      span.style.left = tag.x + 'px';
      span.style.top = tag.y + 'px';
      labels.append(span);
    });
  }

  function zoomTo(zoom) { at.zoom = Math.max(0.5, Math.min(8, zoom)); draw(); }
  function turn(dx, dy) {
    at.around = (at.around - dx + 360) % 360;
    at.above = Math.max(-90, Math.min(90, at.above + dy));
    draw();
  }
  const fingers = new Map();
  let moved = 0;
  let apart = 0;
  const spread = () => { const [a, b] = [...fingers.values()]; return Math.hypot(a[0] - b[0], a[1] - b[1]); };
  canvas.addEventListener('pointerdown', (event) => {
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (fingers.size === 1) { moved = 0; }
    if (fingers.size === 2) { apart = spread(); moved = 99; }
    try { canvas.setPointerCapture(event.pointerId); } catch (error) { /* the finger is up already */ }
  });
  canvas.addEventListener('pointermove', (event) => {
    const from = fingers.get(event.pointerId);
    if (!from) { return; }
    const [dx, dy] = [event.clientX - from[0], event.clientY - from[1]];
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    moved += Math.abs(dx) + Math.abs(dy);
    if (fingers.size === 2) {
      const now = spread();
      if (apart > 0 && now > 0) { at.zoom = Math.max(0.5, Math.min(8, at.zoom * now / apart)); }
      apart = now;
      turn(0.15 * dx, 0.15 * dy);
      return;
    }
    if (moved > 6) { turn(0.5 * dx, options.scrolls && event.pointerType === 'touch' ? 0 : 0.5 * dy); }
  });
  const up = (event) => {
    const tapped = fingers.size === 1 && moved <= 6 && event.type === 'pointerup';
    fingers.delete(event.pointerId);
    if (tapped) { pick(event); }
  };
  canvas.addEventListener('pointerup', up);
  canvas.addEventListener('pointercancel', up);
  function pick(event) {
    if (!scene) { return; }
    const box = canvas.getBoundingClientRect();
    const place = new THREE.Vector2((event.clientX - box.left) / box.width * 2 - 1, 1 - (event.clientY - box.top) / box.height * 2);
    // An end is met by a fingertip, not by a pixel.
    let nearest = null;
    for (const mark of drawn.ends) {
      const on = mark.position.clone().project(camera);
      const distance = Math.hypot((on.x - place.x) / 2 * box.width, (on.y - place.y) / 2 * box.height);
      if (distance < 22 && (!nearest || distance < nearest.distance)) { nearest = { distance, mark }; }
    }
    if (nearest && options.onEnd) { options.onEnd(...nearest.mark.userData.end); return; }
    const ray = new THREE.Raycaster();
    ray.setFromCamera(place, camera);
    const hit = ray.intersectObjects(solids, false)[0];
    const index = hit && hit.object.userData.part < numbers.parts.length ? hit.object.userData.part : -1;
    if (options.onPick) { options.onPick(index); }
  }
  if (!options.scrolls) {
    canvas.addEventListener('wheel', (event) => {
      event.preventDefault();
      zoomTo(at.zoom * Math.exp(-0.0015 * event.deltaY));
    }, { passive: false });
  }
  canvas.addEventListener('keydown', (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) { return; }
    const moves = { ArrowLeft: [15, 0], ArrowRight: [-15, 0], ArrowUp: [0, 10], ArrowDown: [0, -10] };
    if (event.key === '+' || event.key === '-') { zoomTo(at.zoom * (event.key === '+' ? 1.25 : 0.8)); }
    if (event.key === '0') { at = { ...FROM }; draw(); }
    if (!moves[event.key]) { return; }
    event.preventDefault();
    event.stopPropagation(); // otherwise the page would be turned
    turn(...moves[event.key]);
  });
  const watch = new ResizeObserver(() => draw());
  watch.observe(canvas);

  return {
    canvas,
    load(loaded, choice = -1) { numbers = loaded; shown = loaded.parts.map((part, i) => i).concat(loaded.fixtures.map((part, i) => loaded.parts.length + i)); fresh = new Set(); chosen = choice; build(); draw(); },
    show(parts, marked, from, move = null) {
      shown = parts;
      arrow = move;
      fresh = new Set(marked);
      chosen = -1;
      if (from) { at = { ...at, around: from.azimuth_deg, above: from.elevation_deg }; }
      build();
      draw();
    },
    choose(index) { chosen = index; build(); draw(); },
    marks(want) { ends = want.ends ?? ends; tags = want.labels ?? tags; build(); draw(); },
    zoom(by) { zoomTo(at.zoom * by); },
    from(view) { at = { ...at, ...view, zoom: 1 }; draw(); },
    home() { at = { ...FROM }; draw(); },
    place() { return { ...at }; },
    /// Where a point of the frame is on the canvas, in px from its upper left, and how far it is from the eye.
    project(of) {
      const seen = point(THREE, of).project(camera);
      return { x: (seen.x + 1) / 2 * canvas.clientWidth, y: (1 - seen.y) / 2 * canvas.clientHeight, depth: seen.z };
    },
    name(text) { canvas.setAttribute('aria-label', text); },
    draw,
    dispose() { watch.disconnect(); clear(); forgetShapes(); renderer.dispose(); canvas.remove(); labels.remove(); },
  };
}
