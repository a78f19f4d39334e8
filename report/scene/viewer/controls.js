// What is chosen beside the picture: plain form controls, made here and worked by keys as the browser has it.

// make builds an element; text goes in as text and nothing else.
function make(tag, properties = {}, ...children) {
  const e = document.createElement(tag);
  for (const [key, value] of Object.entries(properties)) {
    if (key.includes('-') || key === 'role' || key === 'for') e.setAttribute(key, value);
    else e[key] = value;
  }
  e.append(...children);
  return e;
}

let names = 0;
const fresh = (what) => `scene-${what}-${++names}`;

// mostButtons is up to how many words are buttons side by side; more are a list to unfold.
const mostButtons = 4, mostLetters = 60;

// choice is a group of which one is chosen. fill sets its words, say tells which is chosen.
function choice(title, chosen) {
  const group = make('fieldset', { className: 'scene-choice' }, make('legend', { textContent: title }));
  let say = () => {}, filled = '';
  const fill = (words, at) => {
    if (filled === JSON.stringify(words)) { say(at); return; } // or a reader's keys would lose their place
    filled = JSON.stringify(words);
    [...group.children].slice(1).forEach((e) => e.remove());
    group.hidden = words.length < 2;
    if (words.length <= mostButtons && words.join('').length <= mostLetters) {
      const name = fresh('choice');
      const inputs = words.map((w, i) => {
        const id = fresh('one');
        const input = make('input', { type: 'radio', name, id, checked: i === at });
        input.addEventListener('change', () => chosen(i));
        group.append(make('span', { className: 'scene-one' }, input, make('label', { for: id }, make('bdi', { textContent: w }))));
        return input;
      });
      say = (i) => { if (inputs[i]) inputs[i].checked = true; };
      return;
    }
    const list = make('select', { 'aria-label': title });
    words.forEach((w, i) => list.append(make('option', { textContent: w, value: String(i), selected: i === at })));
    list.addEventListener('change', () => chosen(Number(list.value)));
    group.append(list);
    say = (i) => { list.value = String(i); };
  };
  return { element: group, fill, say: (i) => say(i) };
}

// slider is a number that is dragged, stepped and typed. Between the two ends it runs by shares of the longest.
function slider(title, unit, moved) {
  const id = fresh('number'), range = fresh('range');
  const drag = make('input', { type: 'range', id: range, min: '0', max: '100', step: '1', 'aria-label': `${title}, drag` });
  const typed = make('input', { type: 'number', id, min: '0', step: 'any', inputMode: 'decimal' });
  let most = 1;
  drag.addEventListener('input', () => moved(Number(drag.value) / 100 * most));
  typed.addEventListener('change', () => {
    const v = Number(typed.value);
    if (typed.value !== '' && v >= 0 && v <= 1e7) moved(v);
  });
  const element = make('div', { className: 'scene-slider' }, make('label', { for: id, textContent: title }), drag,
    make('span', { className: 'scene-typed' }, make('span', { textContent: unit, 'aria-hidden': 'true' }), typed));
  return {
    element,
    say: (value, longest) => {
      most = longest;
      drag.value = String(Math.round(100 * value / most));
      drag.setAttribute('aria-valuetext', `${figures(value)} times`);
      if (document.activeElement !== typed) typed.value = String(Number(value.toPrecision(3)));
      typed.step = String(Math.max(1, Number((most / 100).toPrecision(1))));
    },
  };
}

// axisSliders are a slider for each axis. It stops where the machine was solved, and nowhere between; one axis is moved at a
// time, and the others stand as drawn.
function axisSliders(chosen) {
  const note = make('p', { className: 'scene-note', id: fresh('note') });
  const group = make('fieldset', { className: 'scene-axes' }, make('legend', { textContent: 'Axes at, mm' }));
  let rows = [], filled = '';
  const row = ({ name, stations }) => {
    const id = fresh('axis');
    const last = stations.length - 1;
    const drag = make('input', { type: 'range', id, min: '0', max: String(last), step: '1', 'aria-describedby': note.id });
    const typed = make('input', { type: 'number', step: 'any', 'aria-label': `${name}, typed`, 'aria-describedby': note.id });
    const go = (i) => chosen(stations[i].state);
    drag.addEventListener('input', () => go(Number(drag.value)));
    typed.addEventListener('change', () => {
      const v = Number(typed.value), off = stations.map((s) => Math.abs(s.at - v));
      if (typed.value !== '') go(off.indexOf(Math.min(...off)));
      typed.value = stations[Number(drag.value)].at;
    });
    typed.addEventListener('keydown', (e) => {
      const by = { ArrowUp: 1, ArrowDown: -1 }[e.key];
      if (!by) return;
      e.preventDefault();
      go(clamp(Number(drag.value) + by, 0, last));
      typed.value = stations[Number(drag.value)].at;
    });
    note.before(make('div', { className: 'scene-slider' }, make('label', { for: id }, make('bdi', { textContent: name })), drag,
      make('span', { className: 'scene-typed' }, typed)));
    return {
      say: (state) => {
        const at = (n) => stations.findIndex((s) => s.state === n);
        const i = at(state) < 0 ? at(0) : at(state);
        drag.value = String(i);
        drag.setAttribute('aria-valuetext', `${stations[i].at} mm`);
        if (document.activeElement !== typed) typed.value = stations[i].at;
      },
    };
  };
  return {
    element: group,
    fill: (axes, fewer) => {
      const words = JSON.stringify([axes, fewer]);
      if (filled === words) return; // or a reader's keys would lose their place
      filled = words;
      group.replaceChildren(group.firstElementChild, note);
      const moving = axes.filter((a) => a.stations.length > 1);
      rows = moving.map(row);
      group.hidden = axes.length === 0;
      note.textContent = moving.length === 0 ? 'Other positions are left out here: the page would be heavy.'
        : 'Solved where the slider stops, and nowhere between'
          + (moving.length > 1 ? '; one axis at a time, the others as drawn.' : '.')
          + (fewer ? ' Some positions are left out: the page would be heavy.' : '');
    },
    say: (state) => rows.forEach((r) => r.say(state)),
  };
}

// figures writes a number with some digits that count.
function figures(v, count = 3) {
  if (!Number.isFinite(v)) return '–';
  const size = Math.abs(v);
  if (size === 0) return '0';
  const digits = clamp(count - 1 - Math.floor(Math.log10(size)), 0, 8);
  return Number(v.toPrecision(count)).toLocaleString('en', { maximumFractionDigits: digits, useGrouping: false });
}

// number of the view that is typed.
function typed(title, unit, lo, hi, set) {
  const id = fresh('view');
  const input = make('input', { type: 'number', id, min: String(lo), max: String(hi), step: unit === '%' ? '10' : '5' });
  input.addEventListener('change', () => {
    const v = Number(input.value);
    if (input.value !== '' && v >= lo && v <= hi) set(v);
  });
  return {
    element: make('span', { className: 'scene-typed' }, make('label', { for: id, textContent: title }), input,
      make('span', { textContent: unit })),
    say: (v) => { if (document.activeElement !== input) input.value = String(Math.round(v)); },
  };
}

// keyed is the scale of colours with its numbers.
function keyed() {
  const canvas = make('canvas', { className: 'scene-ramp', width: 7, height: 1, 'aria-hidden': 'true' });
  const most = make('span'), none = make('span', { textContent: '0' });
  const element = make('p', { className: 'scene-key' }, none, canvas, most);
  return {
    element,
    say: (scale, um) => {
      const g = canvas.getContext('2d');
      canvas.width = scale.length;
      scale.forEach((c, i) => { g.fillStyle = c; g.fillRect(i, 0, 1, 1); });
      most.textContent = `${figures(um)} µm against the ground`;
    },
  };
}

// table of the parts: which moves how far, and which one is picked or seen through.
function partsTable(pick, see) {
  const body = make('tbody');
  const head = make('tr', {}, ...['part', 'moves up to, µm', 'of the give, %', 'see through']
    .map((w) => make('th', { scope: 'col', textContent: w })));
  const element = make('details', { className: 'scene-parts' }, make('summary', { textContent: 'Every part in numbers' }),
    make('div', { className: 'scene-scroll' }, make('table', {}, make('thead', {}, head), body)));
  let rows = [], filled = '';
  return {
    element,
    fill: (bodies) => {
      const words = JSON.stringify(bodies.map((b) => b.name));
      if (filled === words) return;
      filled = words;
      body.replaceChildren();
      rows = bodies.map((b, i) => {
        const button = make('button', { type: 'button', 'aria-pressed': 'false' }, make('bdi', { textContent: b.name }));
        button.addEventListener('click', () => pick(i));
        const box = make('input', { type: 'checkbox', 'aria-label': `see through ${b.name}` });
        box.addEventListener('change', () => see(i, box.checked));
        const moves = make('td'), share = make('td');
        body.append(make('tr', {}, make('th', { scope: 'row' }, button), moves, share, make('td', {}, box)));
        return { button, box, moves, share };
      });
    },
    say: (load, picked, through) => rows.forEach((r, i) => {
      r.moves.textContent = load ? figures(load.most[i]) : '–';
      const share = load && load.share ? load.share[i] : 0;
      r.share.textContent = share >= 0.05 ? figures(share) : '–';
      r.button.setAttribute('aria-pressed', String(i === picked));
      r.box.checked = through.has(i);
    }),
  };
}
