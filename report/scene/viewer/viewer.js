// The machine, turning: puts the above together and mounts it.

const NAMES = { x: 'right', y: 'away', z: 'up' };

// niceBend is a magnification of one digit by which the largest movement is drawn some share of the machine's size long.
function niceBend(size, mostUm) {
  if (!(mostUm > 0)) return 1;
  const raw = 0.06 * size / (mostUm / 1000), ten = 10 ** Math.floor(Math.log10(raw));
  return Math.max(1, [5, 2, 1].find((n) => n * ten <= raw) * ten);
}

const SIGNS = 0.05; // how far off the machine's corner the arrows start, as a share of its size
const strongest = 4; // times the usual magnification: the end of its slider

function viewer(host, first) {
  let data = decoded(first);
  const look = camera();
  const now = {
    option: 0, state: 0, load: farthest(data.options[0].states[0].loads), picked: -1, through: new Set(), bend: null,
  };
  const still = matchMedia('(prefers-reduced-motion: reduce)');
  const dark = matchMedia('(prefers-color-scheme: dark)');
  let shape, box, swing = 1, playing = 0, asked = false, pixels = 1, colours = {};

  const canvas = make('canvas', { className: 'scene-canvas', tabIndex: 0, role: 'application' });
  canvas.setAttribute('aria-roledescription', 'machine to be turned');
  const art = painter(canvas);
  if (!art) return null;
  const help = make('p', { className: 'scene-help', id: fresh('help'), textContent: 'Drag or arrow keys turn, with Shift they '
    + 'move. Wheel or + and − bring nearer. Click or N and P choose a part, T sees through it, Esc lets go. 0 goes back.' });
  canvas.setAttribute('aria-describedby', help.id);
  const labels = Object.values(NAMES).map((w) => make('span', { className: 'scene-label', textContent: w, 'aria-hidden': 'true' }));
  const key = keyed();
  const view = make('div', { className: 'scene-view' }, canvas, ...labels);
  const said = make('p', { className: 'scene-said', 'aria-live': 'polite' });
  const told = make('p', { className: 'scene-told', 'aria-live': 'polite' });

  const options = choice('Option', (i) => choose(i, now.state, now.load));
  const loads = choice('Load', (i) => choose(now.option, now.state, i));
  const axes = axisSliders((i) => choose(now.option, i, now.load));
  const bend = slider('Bend', '×', (v) => { now.bend = v / usual(); stop(); draw(); });
  const play = make('button', { type: 'button', className: 'scene-play', textContent: 'Play' });
  const tint = make('input', { type: 'checkbox', id: fresh('tint'), checked: true });
  const table = partsTable((i) => pick(i === now.picked ? -1 : i), (i, on) => see(i, on));
  const turn = typed('turn', '°', -180, 180, (v) => { look.turn = v; draw(); });
  const tilt = typed('tilt', '°', -90, 90, (v) => { look.tilt = v; draw(); });
  const zoom = typed('zoom', '%', 20, 2000, (v) => { look.zoom = v / 100; draw(); });
  const aside = typed('right', '%', -400, 400, (v) => { look.x = v / 100; draw(); });
  const above = typed('up', '%', -400, 400, (v) => { look.y = v / 100; draw(); });
  const from = [['corner', 45, 35.264], ['front', 0, 0], ['right', 90, 0], ['above', 0, 90]].map(([word, a, b]) => {
    const button = make('button', { type: 'button', textContent: word });
    button.addEventListener('click', () => { look.reset(); look.turn = a; look.tilt = b; draw(); });
    return button;
  });
  const panel = make('div', { className: 'scene-panel' }, options.element, loads.element, axes.element,
    make('div', { className: 'scene-row' }, bend.element, play),
    make('div', { className: 'scene-row' }, make('span', { className: 'scene-tint' }, tint,
      make('label', { for: tint.id, textContent: 'colour by movement' })), key.element),
    said, told,
    make('div', { className: 'scene-row scene-from', role: 'group', 'aria-label': 'Look from' },
      make('span', { textContent: 'Look from', 'aria-hidden': 'true' }), ...from),
    make('details', {}, make('summary', { textContent: 'The view in numbers' }),
      make('div', { className: 'scene-row' }, turn.element, tilt.element, zoom.element, aside.element, above.element)),
    table.element, help);
  const root = make('section', { className: 'scene', 'aria-label': 'The machine in three dimensions' }, view, panel);

  const option = () => data.options[now.option];
  const load = () => option().states[now.state].loads[now.load];
  const most = () => Math.max(0, ...data.options.map((o) =>
    o.most[o.states[0].loads.findIndex((l) => load() && l.name === load().name)] || 0));
  const usual = () => niceBend(box.size, most());
  const factor = () => (now.bend === null ? 1 : now.bend) * usual();

  // choose shows another option, position or load, and tells the page.
  function choose(o, s, l) {
    keepingParts(() => {
      now.option = clamp(o, 0, data.options.length - 1);
      now.state = clamp(s, 0, option().states.length - 1);
      now.load = clamp(l, 0, Math.max(0, option().states[now.state].loads.length - 1));
    });
    renew();
    host.dispatchEvent(new CustomEvent('scenechosen', { bubbles: true, detail: {
      option: option().name, load: load() ? load().name : '', position: option().states[now.state].words,
    } }));
  }

  // keepingParts makes a change after which the parts that were chosen, and those seen through, are so where they still are.
  function keepingParts(change) {
    const before = option().bodies.map((b) => b.name);
    const name = before[now.picked], through = [...now.through].map((i) => before[i]);
    change();
    const after = option().bodies.map((b) => b.name);
    now.picked = name === undefined ? -1 : after.indexOf(name);
    now.through = new Set(through.map((n) => after.indexOf(n)).filter((i) => i >= 0));
  }

  // renew takes up what is chosen.
  function renew() {
    options.fill(data.options.map((x) => x.name), now.option);
    loads.fill(option().states[now.state].loads.map((x) => x.name), now.load);
    axes.fill(option().axes, option().fewer);
    table.fill(option().bodies);
    reload();
    draw();
  }

  function reload() {
    shape = bent(option(), now.state, now.load);
    data.frame = data.frame || joinedBox(data);
    box = { ...data.frame, lo: data.frame.lo.map((v) => v - 1.6 * SIGNS * data.frame.size) };
    art.load(shape, option().bodies);
    art.signpost(signs());
  }

  // signs are three short arrows at the near left corner of the base, outside of it.
  function signs() {
    const own = data.frame;
    const long = 0.09 * own.size, tip = 0.018 * own.size, gap = SIGNS * own.size;
    const o = own.lo.map((v) => v - gap);
    const list = [];
    for (let k = 0; k < 3; k++) {
      const end = [...o];
      end[k] += long;
      list.push([...o], end);
      for (const side of [-1, 1]) {
        const barb = [...end];
        barb[k] -= tip;
        barb[(k + 1) % 3] += side * tip * 0.5;
        list.push(barb, end);
      }
    }
    now.root = o;
    now.ends = [0, 6, 12].map((i) => list[i + 1].map((v, k) => v + (k === i / 6 ? 0.025 * own.size : 0)));
    return list;
  }

  const pick = (i) => { now.picked = i; draw(); };
  const see = (i, on) => { if (on) now.through.add(i); else now.through.delete(i); draw(); };

  function tell() {
    const l = load(), o = option(), b = o.bodies[now.picked];
    bend.say(factor(), strongest * usual());
    key.say(data.scale, most());
    table.say(l, now.picked, now.through);
    turn.say(look.turn);
    tilt.say(look.tilt);
    zoom.say(100 * look.zoom);
    aside.say(100 * look.x);
    above.say(100 * look.y);
    axes.say(now.state);
    play.hidden = still.matches || !l;
    play.textContent = playing ? 'Stop' : 'Play';
    const at = now.state ? ` at ${o.states[now.state].words}` : '';
    set(said, !l ? 'No load to bend it.'
      : `Under “${l.name}”${at} ${movement(l)}, drawn ${figures(factor())} times as far.`);
    let words = 'No part chosen.';
    if (b) {
      words = `${b.name}: ${[b.material, b.kind].filter(Boolean).join(' ')}${b.kg ? `, ${figures(b.kg)} kg` : ''}`;
      if (l) words += `; moves up to ${figures(l.most[now.picked])} µm`;
      if (l && l.share && l.share[now.picked] >= 0.05) words += `; ${figures(l.share[now.picked])} % of the give`;
      words += now.through.has(now.picked) ? '; seen through.' : '.';
    }
    set(told, words);
    canvas.setAttribute('aria-label', `${data.machine}, ${o.name}. ${said.textContent} ${words}`);
  }
  const set = (e, words) => { if (e.textContent !== words) e.textContent = words; };

  // draw asks for one picture, however often it is called before it comes.
  function draw() {
    look.limit();
    tell();
    if (!asked) { asked = true; requestAnimationFrame(paint); }
  }

  function paint(time) {
    asked = false;
    if (art.lost()) return;
    const r = view.getBoundingClientRect();
    pixels = window.devicePixelRatio || 1;
    const w = Math.max(1, Math.round(r.width * pixels)), h = Math.max(1, Math.round(r.height * pixels));
    if (canvas.width !== w || canvas.height !== h) { canvas.width = w; canvas.height = h; }
    if (playing) {
      swing = Math.sin((time - playing) / 1000 * 2.4);
      asked = true;
      requestAnimationFrame(paint);
    }
    const matrix = look.matrix(box, w, h), axes = look.axes();
    art.paint({
      matrix, axes, pixels, bend: factor() * swing, most: most() / 1000, coloured: tint.checked,
      inks: option().bodies.map((b) => colours.inks[b.kind]), scale: colours.scale, light: mixed(axes),
      through: now.through, picked: now.picked, ghost: factor() > 0, edgeInk: colours.edge, ghostInk: colours.ghost,
      throughInk: colours.through, pickedInk: colours.picked, labelInk: colours.label,
    });
    const [ox, oy] = project(matrix, r.width, r.height, ...now.root);
    now.ends.forEach((p, k) => {
      const [x, y] = project(matrix, r.width, r.height, ...p);
      labels[k].hidden = Math.hypot(x - ox, y - oy) < 14; // the arrow points at the reader, or away
      labels[k].style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
    });
    if (!host.dataset.drawn) performance.mark('scene-seen');
    host.dataset.drawn = String(Number(host.dataset.drawn || 0) + 1);
  }

  // mixed is where the light comes from: above the reader's left shoulder.
  const mixed = ([r, u, n]) => {
    const v = n.map((c, k) => 0.55 * c + 0.75 * u[k] - 0.35 * r[k]);
    const size = Math.hypot(...v);
    return v.map((c) => c / size);
  };

  function theme() {
    const style = getComputedStyle(root);
    const ink = (name, alpha) => [...rgb(style.getPropertyValue(name).trim()), alpha];
    colours = {
      inks: Object.fromEntries(Object.entries(data.inks).map(([k, v]) => [k, rgb(v)])),
      scale: new Float32Array(data.scale.flatMap(rgb)),
      edge: ink('--scene-edge', 0.9), ghost: ink('--scene-ghost', 0.75), through: ink('--scene-ghost', 0.9),
      picked: ink('--scene-picked', 1), label: ink('--scene-label', 1),
    };
    draw();
  }

  function stop() { playing = 0; swing = 1; }

  play.addEventListener('click', () => {
    if (playing) stop(); else playing = performance.now();
    draw();
  });
  tint.addEventListener('change', draw);
  still.addEventListener('change', () => { if (still.matches) stop(); draw(); });
  dark.addEventListener('change', theme);
  canvas.addEventListener('webglcontextlost', (e) => e.preventDefault());
  canvas.addEventListener('webglcontextrestored', () => { art.begin(); reload(); draw(); });
  new ResizeObserver(draw).observe(view);
  hands(canvas, look, {
    draw, height: () => view.clientHeight,
    pickAt: (x, y) => pick(picked(shape, option().bodies, factor(), look.matrix(box, view.clientWidth, view.clientHeight),
      view.clientWidth, view.clientHeight, x, y)),
    next: (by) => {
      const n = option().bodies.length;
      pick(now.picked < 0 ? (by > 0 ? 0 : n - 1) : (now.picked + by + n) % n);
    },
    letGo: () => pick(-1),
    through: () => { if (now.picked >= 0) see(now.picked, !now.through.has(now.picked)); },
  });

  return {
    element: root,
    start: () => { renew(); theme(); },
    // replace takes new data; what was chosen stays where it is still there.
    replace: (fresh) => {
      const next = decoded(fresh);
      const was = { option: option().name, state: option().states[now.state].words, load: load() ? load().name : '' };
      const at = (list, key, name) => Math.max(0, list.findIndex((x) => x[key] === name));
      keepingParts(() => {
        data = next;
        now.option = at(data.options, 'name', was.option);
        now.state = at(option().states, 'words', was.state);
        now.load = at(option().states[now.state].loads, 'name', was.load);
      });
      renew();
      theme();
    },
    choose: (names) => {
      const at = (list, key, name, or) => (name === undefined ? or : list.findIndex((x) => x[key] === name));
      const o = at(data.options, 'name', names.option, now.option);
      if (o < 0) return false;
      const s = at(data.options[o].states, 'words', names.position, Math.min(now.state, data.options[o].states.length - 1));
      const l = s < 0 ? -1 : at(data.options[o].states[s].loads, 'name', names.load, now.load);
      if (s < 0 || l < 0) return false;
      choose(o, s, l);
      return true;
    },
  };
}

// farthest is the number of the load that moves the tip farthest, or the machine, as on the drawing that the viewer takes
// the place of.
function farthest(loads) {
  const size = (l) => (l.tip === undefined ? Math.max(...l.most) : l.tip);
  return loads.reduce((best, l, i) => (size(l) > size(loads[best]) ? i : best), 0);
}

// movement says how far a load moves the tip, or the machine. A number with a range has two digits.
function movement(load) {
  if (load.tip === undefined) return `it moves up to ${figures(Math.max(...load.most))} µm`;
  if (!load.range) return `the tip moves ${figures(load.tip)} µm against the work`;
  const [low, high] = load.range.map((v) => figures(v, 2));
  return `the tip moves ${figures(load.tip, 2)} µm against the work (${low} to ${high} in nine of ten such machines)`;
}

// joinedBox is the box round all that any option shows anywhere, so that nothing jumps when another is chosen.
function joinedBox(data) {
  const unloaded = (o) => ({ ...o, states: o.states.map((s) => ({ ...s, loads: [] })) });
  const all = data.options.map(unloaded).flatMap((o) => o.states.map((_, s) => boxOf(bent(o, s, 0))));
  const lo = [0, 1, 2].map((k) => Math.min(...all.map((b) => b.lo[k])));
  const hi = [0, 1, 2].map((k) => Math.max(...all.map((b) => b.hi[k])));
  return { lo, hi, size: Math.hypot(hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2]) || 1 };
}

// rgb of a colour as the page's style writes it, #rrggbb.
function rgb(text) {
  const v = /^#[0-9a-f]{6}$/i.test(text) ? parseInt(text.slice(1), 16) : 0x808080;
  return [v >> 16, (v >> 8) & 255, v & 255].map((c) => c / 255);
}

function mount() {
  const host = document.getElementById('machine'), source = document.getElementById('scene');
  if (!host || !source || window.tiploopScene) return;
  let made = null;
  try {
    made = viewer(host, source.textContent);
  } catch (error) {
    console.warn(`machine in three dimensions: ${error.message}`);
  }
  if (!made) return; // the still drawing stays
  const drawings = [...host.children];
  host.append(made.element);
  made.start();
  drawings.forEach((e) => { e.hidden = true; e.classList.add('scene-still'); });
  window.tiploopScene = { replace: made.replace, choose: made.choose };
}

// The page is painted first: two frames, then when there is time, and at last without.
const later = window.requestIdleCallback || ((f) => setTimeout(f, 1));
const begin = () => requestAnimationFrame(() => requestAnimationFrame(() => later(mount, { timeout: 1500 })));
if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', begin);
else begin();
