#include "cli/cards/bench_view.hpp"

namespace dryfit::cli {

const char* bench_view_script() {
  return R"js((function () {
  'use strict';
  var source = document.getElementById('solids');
  var canvas = document.createElement('canvas');
  var gl = null;
  try { gl = canvas.getContext('webgl', { antialias: true, preserveDrawingBuffer: true }); } catch (error) { gl = null; }
  if (!gl || !source) { return; }
  var data = JSON.parse(source.textContent);
  var tones = [[0.87, 0.89, 0.91], [0.58, 0.64, 0.70], [0.95, 0.87, 0.72], null, [0.45, 0.48, 0.52]];
  var fresh = [0.93, 0.42, 0.12];

  function shader(type, text) {
    var made = gl.createShader(type);
    gl.shaderSource(made, text);
    gl.compileShader(made);
    return made;
  }
  var program = gl.createProgram();
  gl.attachShader(program, shader(gl.VERTEX_SHADER,
    'attribute vec3 at; attribute vec3 normal; attribute vec3 tone; uniform mat3 turn; uniform vec4 fit; uniform vec3 middle;' +
    'varying vec3 shade; void main() { vec3 p = turn * (at - middle); vec3 n = turn * normal;' +
    'float light = length(normal) < 0.5 ? 1.0 : 0.55 + 0.45 * max(0.0, dot(n, normalize(vec3(-0.4, 0.55, 0.75))));' +
    'shade = tone * light; float lift = length(normal) < 0.5 ? 0.0006 : 0.0;' +
    'gl_Position = vec4(p.x * fit.x, p.y * fit.y, -p.z * fit.z - lift, 1.0); }'));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER,
    'precision mediump float; varying vec3 shade; void main() { gl_FragColor = vec4(shade, 1.0); }'));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) { return; }
  gl.useProgram(program);
  gl.enable(gl.DEPTH_TEST);
  gl.enable(gl.POLYGON_OFFSET_FILL);
  gl.polygonOffset(1, 1);

  function sub(a, b) { return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]; }
  function cross(a, b) { return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]; }
  function unit(a) { var n = Math.hypot(a[0], a[1], a[2]) || 1; return [a[0] / n, a[1] / n, a[2] / n]; }

  function addFace(mesh, points, normals, tone) {
    for (var i = 2; i < points.length; i += 1) {
      [0, i - 1, i].forEach(function (k) { mesh.faces.push.apply(mesh.faces, points[k].concat(normals[k], tone)); });
    }
  }
  function addLine(mesh, a, b, tone) {
    [a, b].forEach(function (p) { mesh.lines.push.apply(mesh.lines, p.concat([0, 0, 0], tone || [0.1, 0.1, 0.12])); });
  }
  function same(n, count) { var out = []; for (var i = 0; i < count; i += 1) { out.push(n); } return out; }

  function addCylinder(mesh, a, b, radius, tone) {
    var along = unit(sub(b, a));
    var first = unit(cross(along, Math.abs(along[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0]));
    var second = cross(along, first);
    var count = 24, low = [], high = [], out = [];
    for (var i = 0; i < count; i += 1) {
      var c = Math.cos(2 * Math.PI * i / count), s = Math.sin(2 * Math.PI * i / count);
      var n = [0, 1, 2].map(function (k) { return c * first[k] + s * second[k]; });
      out.push(n);
      low.push([0, 1, 2].map(function (k) { return a[k] + radius * n[k]; }));
      high.push([0, 1, 2].map(function (k) { return b[k] + radius * n[k]; }));
    }
    for (var j = 0; j < count; j += 1) {
      var m = (j + 1) % count;
      addFace(mesh, [low[j], low[m], high[m], high[j]], [out[j], out[m], out[m], out[j]], tone);
      addLine(mesh, low[j], low[m]);
      addLine(mesh, high[j], high[m]);
    }
    addFace(mesh, high, same(along, count), tone);
    addFace(mesh, low, same([-along[0], -along[1], -along[2]], count), tone);
  }
  function addBox(mesh, a, b, tone) {
    function corner(i) { return [i & 1 ? b[0] : a[0], i & 2 ? b[1] : a[1], i & 4 ? b[2] : a[2]]; }
    [[[0, 2, 6, 4], [-1, 0, 0]], [[1, 5, 7, 3], [1, 0, 0]], [[0, 4, 5, 1], [0, -1, 0]], [[2, 3, 7, 6], [0, 1, 0]],
      [[0, 1, 3, 2], [0, 0, -1]], [[4, 6, 7, 5], [0, 0, 1]]].forEach(function (face) {
      addFace(mesh, face[0].map(corner), same(face[1], 4), tone);
      face[0].forEach(function (k, i) { addLine(mesh, corner(k), corner(face[0][(i + 1) % 4])); });
    });
  }

  // Floor and walls are lines alone: from every side the frame is seen through them.
  function addPatch(mesh, a, b) {
    var flat = [0, 1, 2].filter(function (k) { return a[k] === b[k]; })[0];
    var u = flat === 0 ? 1 : 0, v = flat === 2 ? 1 : 2, tone = [0.6, 0.6, 0.58], gap = 180;
    function at(x, y) { var p = a.slice(); p[u] = x; p[v] = y; return p; }
    [[a[u], a[v], b[u], a[v]], [b[u], a[v], b[u], b[v]], [b[u], b[v], a[u], b[v]], [a[u], b[v], a[u], a[v]]].forEach(
      function (e) { addLine(mesh, at(e[0], e[1]), at(e[2], e[3]), tone); });
    for (var c = gap * Math.ceil((a[u] + a[v] + 1) / gap); c < b[u] + b[v]; c += gap) {
      var from = Math.max(a[u], c - b[v]), to = Math.min(b[u], c - a[v]);
      addLine(mesh, at(from, c - from), at(to, c - to), tone);
    }
  }

  var scene = null;
  function load(id) {
    var step = data.steps[id];
    var mesh = { faces: [], lines: [] };
    var low = [1e9, 1e9, 1e9], high = [-1e9, -1e9, -1e9];
    step[0].forEach(function (part) {
      var tone = step[1].indexOf(part) >= 0 ? fresh : tones[data.parts[part][0]];
      data.parts[part].slice(1).forEach(function (body) {
        var a = body.slice(0, 3), b = body.slice(3, 6), r = body[6] || 0;
        for (var k = 0; k < 3; k += 1) {
          low[k] = Math.min(low[k], Math.min(a[k], b[k]) - r);
          high[k] = Math.max(high[k], Math.max(a[k], b[k]) + r);
        }
        if (data.parts[part][0] === 3) { addPatch(mesh, a, b); return; }
        if (body.length === 7) { addCylinder(mesh, a, b, r, tone); } else { addBox(mesh, a, b, tone); }
      });
    });
    scene = { faces: mesh.faces.length / 9, lines: mesh.lines.length / 9,
      middle: [0, 1, 2].map(function (k) { return (low[k] + high[k]) / 2; }), size: Math.hypot.apply(Math, sub(high, low)) || 1 };
    gl.bindBuffer(gl.ARRAY_BUFFER, gl.createBuffer());
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(mesh.faces.concat(mesh.lines)), gl.STATIC_DRAW);
    ['at', 'normal', 'tone'].forEach(function (name, i) {
      var place = gl.getAttribLocation(program, name);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 36, 12 * i);
    });
  }
  var around = 28, above = 24, zoom = 1;
  function draw() {
    var width = canvas.clientWidth || 300, height = canvas.clientHeight || 240, dense = window.devicePixelRatio || 1;
    canvas.width = Math.round(width * dense);
    canvas.height = Math.round(height * dense);
    gl.viewport(0, 0, canvas.width, canvas.height);
    gl.clearColor(1, 1, 1, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    var t = around * Math.PI / 180, e = above * Math.PI / 180;
    var right = [Math.cos(t), Math.sin(t), 0];
    var toward = [Math.sin(t) * Math.cos(e), -Math.cos(t) * Math.cos(e), Math.sin(e)];
    var up = cross(toward, right);
    gl.uniformMatrix3fv(gl.getUniformLocation(program, 'turn'), false,
      [right[0], up[0], toward[0], right[1], up[1], toward[1], right[2], up[2], toward[2]]);
    var k = 1.9 * zoom / scene.size;
    gl.uniform4f(gl.getUniformLocation(program, 'fit'), k * Math.min(1, height / width), k * Math.min(1, width / height),
      0.9 / scene.size, 1);
    gl.uniform3fv(gl.getUniformLocation(program, 'middle'), scene.middle);
    gl.drawArrays(gl.TRIANGLES, 0, scene.faces);
    gl.drawArrays(gl.LINES, scene.faces, scene.lines);
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
)js";
}

}  // namespace dryfit::cli
