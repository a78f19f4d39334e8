// From where the machine is looked at: straight on, without perspective, as it is drawn.

const CORNER = { turn: 45, tilt: 35.264, zoom: 1, x: 0, y: 0 }; // isometric, from the front right and above

const DEGREE = Math.PI / 180;
const clamp = (v, lo, hi) => Math.max(lo, Math.min(hi, v));

// camera turns about the upright axis and tilts; x and y shift the picture in shares of its height.
function camera() {
  const c = { ...CORNER };
  c.limit = () => {
    c.turn = ((c.turn % 360) + 540) % 360 - 180;
    c.tilt = clamp(c.tilt, -90, 90);
    c.zoom = clamp(c.zoom, 0.2, 20);
    c.x = clamp(c.x, -4, 4);
    c.y = clamp(c.y, -4, 4);
  };
  c.reset = () => Object.assign(c, CORNER);
  // axes of the picture in the world: right, up, towards the reader
  c.axes = () => {
    const sa = Math.sin(c.turn * DEGREE), ca = Math.cos(c.turn * DEGREE);
    const st = Math.sin(c.tilt * DEGREE), ct = Math.cos(c.tilt * DEGREE);
    return [[ca, sa, 0], [-sa * st, ca * st, ct], [sa * ct, -ca * ct, st]];
  };
  // matrix takes mm to the picture, from −1 to 1, by columns; width and height are those of the canvas.
  c.matrix = (box, width, height) => {
    const [r, u, n] = c.axes();
    const scale = c.scale(box, width, height);
    const sx = 2 * scale / width, sy = 2 * scale / height, sz = -0.5 / box.size;
    const m = box.lo.map((v, k) => (v + box.hi[k]) / 2);
    const dot = (a) => a[0] * m[0] + a[1] * m[1] + a[2] * m[2];
    return new Float32Array([
      r[0] * sx, u[0] * sy, n[0] * sz, 0, r[1] * sx, u[1] * sy, n[1] * sz, 0, r[2] * sx, u[2] * sy, n[2] * sz, 0,
      -dot(r) * sx + 2 * c.x * height / width, -dot(u) * sy + 2 * c.y, -dot(n) * sz, 1,
    ]);
  };
  // scale is in pixels a mm: the machine fits from the corner and square to each side.
  c.scale = (box, width, height) => {
    const size = box.lo.map((v, k) => box.hi[k] - v);
    const wide = Math.max(size[0], size[1], (size[0] + size[1]) * Math.SQRT1_2);
    const high = Math.max(size[1], size[2], (size[0] + size[1]) * 0.408 + size[2] * 0.816);
    return c.zoom * FITS * Math.min(width / wide, height / high);
  };
  return c;
}

// FITS is the share of the picture that the box round the machine takes.
const FITS = 0.96;

// project gives a place in pixels from the upper left, and how far from the reader it is.
function project(m, width, height, x, y, z) {
  return [
    (m[0] * x + m[4] * y + m[8] * z + m[12] + 1) / 2 * width,
    (1 - (m[1] * x + m[5] * y + m[9] * z + m[13])) / 2 * height,
    m[2] * x + m[6] * y + m[10] * z + m[14],
  ];
}

// picked is the number of the body nearest to the reader at a place of the picture; −1: none.
function picked(shape, bodies, bend, m, width, height, px, py) {
  let best = -1, nearest = Infinity;
  shape.forEach(({ at, by }, b) => {
    const flat = [];
    for (let i = 0; i < at.length; i += 3) {
      flat.push(project(m, width, height, at[i] + bend * by[i], at[i + 1] + bend * by[i + 1], at[i + 2] + bend * by[i + 2]));
    }
    const t = bodies[b].mesh.triangles;
    for (let i = 0; i < t.length; i += 3) {
      const [a, c, d] = [flat[t[i]], flat[t[i + 1]], flat[t[i + 2]]];
      const area = (c[0] - a[0]) * (d[1] - a[1]) - (d[0] - a[0]) * (c[1] - a[1]);
      if (area === 0) continue;
      const v = ((px - a[0]) * (d[1] - a[1]) - (d[0] - a[0]) * (py - a[1])) / area;
      const w = ((c[0] - a[0]) * (py - a[1]) - (px - a[0]) * (c[1] - a[1])) / area;
      if (v < 0 || w < 0 || v + w > 1) continue;
      const depth = a[2] + v * (c[2] - a[2]) + w * (d[2] - a[2]);
      if (depth < nearest) [nearest, best] = [depth, b];
    }
  });
  return best;
}
