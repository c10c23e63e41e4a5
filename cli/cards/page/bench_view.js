(function () {
  'use strict';
  var source = document.getElementById('solids');
  var canvas = document.createElement('canvas');
  var gl = null;
  try { gl = canvas.getContext('webgl', { antialias: true, preserveDrawingBuffer: true }); } catch (error) { gl = null; }
  if (!gl || !source || typeof THREE === 'undefined') { return; }
  var data = JSON.parse(source.textContent);
  var renderer = new THREE.WebGLRenderer({ canvas: canvas, context: gl, antialias: true, preserveDrawingBuffer: true });
  renderer.setClearColor(0xffffff, 1);
  var camera = new THREE.OrthographicCamera();
  var lamp = new THREE.DirectionalLight(0xffffff, 0.45);  // over the viewer's left shoulder, whatever is turned
  lamp.position.set(-0.4, 0.55, 0.75);
  camera.add(lamp, lamp.target);
  function paint(red, green, blue) {
    // Pushed back a little, so that edges lie on the faces.
    return new THREE.MeshLambertMaterial({ color: new THREE.Color(red, green, blue), polygonOffset: true,
      polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  }
  var tones = [paint(0.87, 0.89, 0.91), paint(0.58, 0.64, 0.70), paint(0.95, 0.87, 0.72), null, paint(0.45, 0.48, 0.52)];
  var fresh = paint(0.93, 0.42, 0.12);
  var edge = new THREE.LineBasicMaterial({ color: new THREE.Color(0.1, 0.1, 0.12) });
  var ground = new THREE.LineBasicMaterial({ color: new THREE.Color(0.6, 0.6, 0.58) });

  function point(of, first) { return new THREE.Vector3(of[first], of[first + 1], of[first + 2]); }
  function addBody(to, body, material) {
    var a = point(body, 0), b = point(body, 3), along = b.clone().sub(a), shape;
    if (body.length === 7) {
      shape = new THREE.CylinderBufferGeometry(body[6], body[6], along.length(), 24);  // about y
    } else {
      shape = new THREE.BoxBufferGeometry(Math.abs(along.x), Math.abs(along.y), Math.abs(along.z));
    }
    var solid = new THREE.Mesh(shape, material);
    solid.position.copy(a).add(b).multiplyScalar(0.5);
    if (body.length === 7) { solid.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), along.normalize()); }
    solid.add(new THREE.LineSegments(new THREE.EdgesGeometry(shape, 30), edge));
    to.add(solid);
  }

  // Floor and walls are lines alone: from every side the frame is seen through them.
  function addPatch(to, a, b) {
    var flat = [0, 1, 2].filter(function (k) { return a[k] === b[k]; })[0];
    var u = flat === 0 ? 1 : 0, v = flat === 2 ? 1 : 2, gap = 180, ends = [];
    function at(x, y) { var p = a.slice(); p[u] = x; p[v] = y; return p; }
    function line(x0, y0, x1, y1) { ends.push.apply(ends, at(x0, y0).concat(at(x1, y1))); }
    line(a[u], a[v], b[u], a[v]);
    line(b[u], a[v], b[u], b[v]);
    line(b[u], b[v], a[u], b[v]);
    line(a[u], b[v], a[u], a[v]);
    for (var c = gap * Math.ceil((a[u] + a[v] + 1) / gap); c < b[u] + b[v]; c += gap) {
      var from = Math.max(a[u], c - b[v]), till = Math.min(b[u], c - a[v]);
      line(from, c - from, till, c - till);
    }
    var shape = new THREE.BufferGeometry();
    shape.setAttribute('position', new THREE.Float32BufferAttribute(ends, 3));
    to.add(new THREE.LineSegments(shape, ground));
  }

  var scene = null, middle = new THREE.Vector3(), size = 1;
  function clear() {
    if (!scene) { return; }
    scene.traverse(function (thing) { if (thing.geometry) { thing.geometry.dispose(); } });
    scene = null;
  }
  function load(id) {
    clear();
    scene = new THREE.Scene();
    scene.add(camera, new THREE.AmbientLight(0xffffff, 0.55));
    var step = data.steps[id], box = new THREE.Box3();
    step[0].forEach(function (part) {
      var kind = data.parts[part][0];
      data.parts[part].slice(1).forEach(function (body) {
        var a = point(body, 0), b = point(body, 3);
        box.union(new THREE.Box3(a.clone().min(b), a.clone().max(b)).expandByScalar(body[6] || 0));
        if (kind === 3) {
          addPatch(scene, body.slice(0, 3), body.slice(3, 6));
        } else {
          addBody(scene, body, step[1].indexOf(part) >= 0 ? fresh : tones[kind]);
        }
      });
    });
    box.getCenter(middle);
    size = box.getSize(new THREE.Vector3()).length() || 1;
  }
  var around = 28, above = 24, zoom = 1;
  function draw() {
    var width = canvas.clientWidth || 300, height = canvas.clientHeight || 240;
    renderer.setPixelRatio(window.devicePixelRatio || 1);
    renderer.setSize(width, height, false);
    var t = around * Math.PI / 180, e = above * Math.PI / 180;
    var right = new THREE.Vector3(Math.cos(t), Math.sin(t), 0);
    var toward = new THREE.Vector3(Math.sin(t) * Math.cos(e), -Math.cos(t) * Math.cos(e), Math.sin(e));
    camera.up.crossVectors(toward, right);
    camera.position.copy(toward).multiplyScalar(2 * size).add(middle);
    camera.lookAt(middle);
    var half = size / (1.9 * zoom);
    camera.right = half / Math.min(1, height / width);
    camera.top = half / Math.min(1, width / height);
    camera.left = -camera.right;
    camera.bottom = -camera.top;
    camera.near = 0;
    camera.far = 4 * size;
    camera.updateProjectionMatrix();
    renderer.render(scene, camera);
  }
  function turn(dx, dy) {
    around = (around - dx + 360) % 360;
    above = Math.max(-90, Math.min(90, above + dy));
    draw();
  }
  canvas.tabIndex = 0;
  canvas.setAttribute('role', 'img');
  var last = {};
  canvas.addEventListener('pointerdown', function (event) {
    last[event.pointerId] = [event.clientX, event.clientY];
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener('pointermove', function (event) {
    var from = last[event.pointerId];
    if (!from || Object.keys(last).length > 1) { return; }
    turn(0.5 * (event.clientX - from[0]), 0.5 * (event.clientY - from[1]));
    last[event.pointerId] = [event.clientX, event.clientY];
  });
  ['pointerup', 'pointercancel'].forEach(function (name) {
    canvas.addEventListener(name, function (event) { delete last[event.pointerId]; });
  });
  canvas.addEventListener('wheel', function (event) {
    event.preventDefault();
    zoom = Math.max(0.5, Math.min(8, zoom * Math.exp(-0.0015 * event.deltaY)));
    draw();
  }, { passive: false });
  canvas.addEventListener('keydown', function (event) {
    var moves = { ArrowLeft: [15, 0], ArrowRight: [-15, 0], ArrowUp: [0, 10], ArrowDown: [0, -10] };
    if (event.key === '+' || event.key === '-') { zoom = Math.max(0.5, Math.min(8, zoom * (event.key === '+' ? 1.25 : 0.8))); draw(); }
    if (!moves[event.key]) { return; }
    event.preventDefault();
    event.stopPropagation();  // otherwise the page would be turned
    turn(moves[event.key][0], moves[event.key][1]);
  });
  window.addEventListener('resize', function () { if (canvas.parentNode) { draw(); } });

  var open = null;
  function close() {
    if (!open) { return; }
    canvas.remove();
    open.figure.classList.remove('turning');
    open.button.setAttribute('aria-pressed', 'false');
    open = null;
  }
  Array.prototype.forEach.call(document.querySelectorAll('button.turn'), function (button) {
    button.hidden = false;
    button.addEventListener('click', function () {
      var figure = button.parentNode.querySelector('figure');
      var again = open && open.button === button;
      close();
      if (again) { return; }
      canvas.setAttribute('aria-label', button.dataset.name);
      figure.insertBefore(canvas, figure.firstChild);
      figure.classList.add('turning');
      button.setAttribute('aria-pressed', 'true');
      open = { figure: figure, button: button };
      around = 28; above = 24; zoom = 1;
      load(button.dataset.step);
      draw();
      canvas.focus({ preventScroll: true });
    });
  });
}());
