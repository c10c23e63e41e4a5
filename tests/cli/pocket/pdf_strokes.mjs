// What is drawn in a PDF that a browser printed, in millimetres of the paper: lines and closed curves, page by page.
import { inflateSync } from 'node:zlib';

const MM = 25.4 / 72;

/// The objects of the file: number to {text, stream}.
function objectsOf(bytes) {
  const text = bytes.toString('latin1');
  const objects = new Map();
  for (const found of text.matchAll(/(\d+) 0 obj\b/g)) {
    const begin = found.index + found[0].length;
    const end = text.indexOf('endobj', begin);
    const at = text.indexOf('stream', begin);
    const inside = at > 0 && at < end;
    const head = text.slice(begin, inside ? at : end);
    let stream = null;
    if (inside) {
      const from = at + (text[at + 6] === '\r' ? 8 : 7);
      const length = Number((/\/Length (\d+)/.exec(head) || [0, 0])[1]);
      const raw = bytes.subarray(from, from + length);
      stream = /FlateDecode/.test(head) ? inflateSync(raw).toString('latin1') : raw.toString('latin1');
    }
    objects.set(Number(found[1]), { head, stream });
  }
  return objects;
}

function times(a, b) {
  return [a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3], a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
    a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5]];
}

/// {lines: [[x0, y0, x1, y1]], curves: [{width, height, x, y}]} of one content stream.
function strokesIn(content) {
  const lines = [];
  const curves = [];
  let matrix = [1, 0, 0, 1, 0, 0];
  const kept = [];
  let numbers = [];
  let path = [];
  let at = [0, 0];
  const place = (x, y) => [(x * matrix[0] + y * matrix[2] + matrix[4]) * MM, (x * matrix[1] + y * matrix[3] + matrix[5]) * MM];
  const closeCurve = () => {
    if (path.length >= 4) {
      const xs = path.flatMap((piece) => piece.map((one) => one[0]));
      const ys = path.flatMap((piece) => piece.map((one) => one[1]));
      const [l, r, b, t] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
      curves.push({ width: r - l, height: t - b, x: (l + r) / 2, y: (b + t) / 2 });
    }
    path = [];
  };
  for (const [token] of content.matchAll(/[^\s()<>[\]/]+|\((?:\\.|[^\\)])*\)|[[\]<>/]/g)) {
    if (/^[-+]?[\d.]+$/.test(token)) { numbers.push(Number(token)); continue; }
    const n = numbers;
    if (token === 'q') { kept.push(matrix); } else if (token === 'Q') { matrix = kept.pop(); } else if (token === 'cm') { matrix = times(n.slice(-6), matrix); } else if (token === 'm') { closeCurve(); at = place(...n.slice(-2)); } else if (token === 'l') {
      const to = place(...n.slice(-2));
      lines.push([...at, ...to]);
      at = to;
    } else if (token === 'c') {
      const to = place(...n.slice(-2));
      path.push([at, to]);
      at = to;
    } else if (['S', 's', 'f', 'F', 'B', 'b', 'n', 'h'].includes(token)) { closeCurve(); }
    numbers = [];
  }
  return { lines, curves };
}

/// Page by page.
export function strokesOf(bytes) {
  const objects = objectsOf(bytes);
  const pages = [];
  for (const { head } of objects.values()) {
    if (!/\/Type\s*\/Page\b/.test(head)) { continue; }
    const contents = /\/Contents (?:(\d+) 0 R|\[([^\]]*)\])/.exec(head);
    const numbers = contents[1] ? [Number(contents[1])] : [...contents[2].matchAll(/(\d+) 0 R/g)].map((found) => Number(found[1]));
    pages.push(strokesIn(numbers.map((number) => objects.get(number).stream).join('\n')));
  }
  return pages;
}
