// From the page's data to corners and their movements.

const FORM = 1;

function bytes(text) {
  const raw = atob(text);
  const out = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) out[i] = raw.charCodeAt(i);
  return out.buffer;
}

const unsigned = (text) => new Uint16Array(bytes(text));
const signed = (text) => new Int16Array(bytes(text));

// decoded checks the data and unpacks what all options share. It throws when it is no data of this form.
function decoded(data) {
  if (typeof data === 'string') data = JSON.parse(data);
  if (!data || data.form !== FORM || !Array.isArray(data.options) || data.options.length === 0) {
    throw new Error('no machine to show');
  }
  const meshes = data.meshes.map((m) => ({
    corners: m.corners, triangles: unsigned(m.triangles), edges: unsigned(m.edges),
  }));
  const places = data.places.map((text) => Float32Array.from(unsigned(text), (v, i) => data.from[i % 3] + v * data.step));
  return { ...data, options: data.options.map((o) => option(o, meshes, places, data.bases)) };
}

function option(o, meshes, places, bases) {
  const bodies = o.bodies.map((b) => ({
    ...b, mesh: meshes[b.mesh], basis: bases[b.basis], at: places[b.at],
  }));
  const most = o.states[0].loads.map((_, l) => Math.max(...o.states.map((s) => Math.max(...s.loads[l].most))));
  return { name: o.name, bodies, axes: stations(o), fewer: Boolean(o.fewer), states: o.states, most, places };
}

// stations are the axes of an option, each with the places at which it was solved, in order, and the states it has there.
function stations(o) {
  return (o.axes || []).map(({ name, at }) => ({
    name,
    stations: [{ at, state: 0 }, ...o.states.flatMap((s, i) => (s.axis === name ? [{ at: s.at || 0, state: i }] : []))]
      .sort((a, b) => a.at - b.at),
  }));
}

// bent gives for each body of an option in a state where its corners are and how they move under a load, mm.
function bent(o, state, load) {
  const s = o.states[state];
  const moved = new Map((s.moved || []).map((m) => [m.body, m.by]));
  const drawn = new Map((s.drawn || []).map((d) => [d.body, d.at]));
  const numbers = s.loads.length ? signed(s.loads[load].moved) : new Int16Array(0);
  const step = s.loads.length ? s.loads[load].step : 0;
  let from = 0;
  return o.bodies.map((b, i) => {
    let at = b.at;
    if (drawn.has(i)) at = o.places[drawn.get(i)];
    if (moved.has(i)) at = at.map((v, k) => v + moved.get(i)[k % 3]);
    const by = new Float32Array(at.length);
    if (s.loads.length) {
      const terms = b.basis || [];
      polynomial(at, terms, numbers.subarray(from, from + 3 * terms.length), step, by);
      from += 3 * terms.length;
    }
    return { at, by };
  });
}

// polynomial in the coordinates of the corners' own box.
function polynomial(at, terms, numbers, step, out) {
  const lo = [Infinity, Infinity, Infinity], hi = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < at.length; i++) {
    lo[i % 3] = Math.min(lo[i % 3], at[i]);
    hi[i % 3] = Math.max(hi[i % 3], at[i]);
  }
  const middle = lo.map((v, k) => (v + hi[k]) / 2), half = lo.map((v, k) => (hi[k] - v) / 2);
  for (let i = 0; i < at.length; i += 3) {
    const p = [0, 1, 2].map((k) => (half[k] > 0 ? (at[i + k] - middle[k]) / half[k] : 0));
    for (let n = 0; n < terms.length; n++) {
      const t = terms[n];
      const value = step * p[0] ** t[0] * p[1] ** t[1] * p[2] ** t[2];
      for (let k = 0; k < 3; k++) out[i + k] += value * numbers[3 * n + k];
    }
  }
}

// box round the corners of all bodies.
function boxOf(shape) {
  const lo = [Infinity, Infinity, Infinity], hi = [-Infinity, -Infinity, -Infinity];
  for (const { at } of shape) {
    for (let i = 0; i < at.length; i++) {
      lo[i % 3] = Math.min(lo[i % 3], at[i]);
      hi[i % 3] = Math.max(hi[i % 3], at[i]);
    }
  }
  return { lo, hi, size: Math.hypot(hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2]) };
}
