// A row for each of the file's numbers.

const status = make("p", {class: "live-status", role: "status"});
const choice = make("select", {id: "live-option", change: () => {
  option = choice.value;
  moved = {};
  send();
  window.tiploopScene?.choose({option});
}});
const chooser = make("p", {class: "live-option"}, make("label", {for: "live-option"}, "Values of the option "), choice);
const list = make("div", {class: "live-values"});
const readoutHead = make("p", {class: "live-by"});
const readout = make("tbody");
const heads = make("tr");
const trouble = make("div", {class: "live-trouble", role: "alert", hidden: true});
const table = make("table", {class: "live-readout"}, make("thead", {}, heads), readout);
const fault = make("div", {id: "live-fault", role: "alert", hidden: true});
let rows = [];

if (place) {
  place.append(
    make("h2", {}, "Turn a number, see what it does"), chooser, list, trouble, readoutHead,
    make("div", {class: "live-scroll"}, table), status);
  const machine = document.getElementById("drawing");
  if (machine) machine.after(place.closest("aside") || place); // the numbers stand below what they change
}

function say(text) {
  setText(status, text);
}

let lostSince = 0;
function lost() {
  say("The program does not answer. Start it again, and open the address that it prints.");
}

// digits is how many places behind the point a step has.
const digits = (step) => Math.max(0, -Math.floor(Math.log10(step) + 1e-9));

// snapped is the number of a slider's step next to x; the file's own, or an end of the slider, where it is that near.
function snapped(x, v) {
  const near = [v.file, v.from, v.to].find((own) => Math.abs(x - own) < v.step / 2);
  return near ?? Number((Math.round(x / v.step) * v.step).toFixed(digits(v.step)));
}

function rowOf(v, number) {
  const id = "live-value-" + number;
  const row = {value: v, dragged: false, typing: false};
  row.slider = make("input", {
    type: "range", id, step: "any", disabled: v.fixed !== "",
    input: () => move(row, snapped(Number(row.slider.value), row.value)),
    keydown: (e) => stepped(row, e),
    pointerdown: () => { row.dragged = true; },
    pointerup: () => { row.dragged = false; },
    pointercancel: () => { row.dragged = false; },
  });
  row.number = make("input", {
    type: "text", inputmode: "decimal", autocomplete: "off", "aria-label": v.name + ", typed", disabled: v.fixed !== "",
    change: () => typed(row), keydown: (e) => stepped(row, e, true), focus: () => row.number.select(),
    input: () => { row.typing = true; }, blur: () => { row.typing = false; showRow(row); },
  });
  row.was = make("span", {class: "live-was"});
  row.does = make("span", {class: "live-does"});
  row.note = make("span", {class: "live-note", role: "status"});
  row.write = make("button", {type: "button", click: () => write(row)}, "write to file");
  row.back = make("button", {type: "button", click: () => { move(row, row.value.file); row.slider.focus(); }},
    "back to file");
  row.element = make("div", {class: "live-value"},
    make("label", {for: id}, v.name), row.slider,
    make("span", {class: "live-number"}, row.number, make("span", {class: "live-unit"}, v.unit)),
    make("span", {class: "live-file"}, row.was, row.write, row.back),
    row.does, row.note);
  return row;
}

// stepped moves a slider by keys: a step, with page keys ten, to the ends with Home and End.
function stepped(row, e, isText) {
  const v = row.value;
  const at = current(v);
  const ways = {ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10};
  if (!isText) Object.assign(ways, {ArrowRight: 1, ArrowLeft: -1});
  let to;
  if (e.key in ways) to = at + ways[e.key] * v.step;
  else if (!isText && e.key === "Home") to = v.from;
  else if (!isText && e.key === "End") to = v.to;
  else return;
  e.preventDefault();
  if (isText) to = Number(to.toFixed(Math.max(digits(v.step), decimals(at))));
  else to = snapped(Math.min(Math.max(to, row.slider.min), row.slider.max), v);
  move(row, to);
}

// decimals is how many places behind the point a number is written with.
const decimals = (x) => (String(x).split(".")[1] || "").length;

function typed(row) {
  const text = row.number.value.trim().replace(",", ".");
  const x = Number(text);
  row.typing = false;
  if (text === "" || !Number.isFinite(x) || (row.value.whole && !Number.isInteger(x))) {
    row.note.textContent = row.value.whole ? "a whole number is wanted" : "a number is wanted";
    return;
  }
  move(row, x);
}

const current = (v) => (v.name in moved ? moved[v.name] : v.file);

function move(row, to) {
  const v = row.value;
  row.note.textContent = "";
  row.typing = false;
  if (to === v.file) delete moved[v.name];
  else moved[v.name] = to;
  showRow(row);
  send();
}

// showRow writes a row as this page wants it.
function showRow(row) {
  const v = row.value;
  const at = current(v);
  const differs = at !== v.file;
  row.slider.min = Math.min(v.from, at);
  row.slider.max = Math.max(v.to, at);
  if (!row.dragged) row.slider.value = at;
  row.slider.setAttribute("aria-valuetext", withUnit(at, v.unit) + (differs ? ", in the file " + withUnit(v.file, v.unit) : ""));
  if (!row.typing && row.number.value !== String(at)) row.number.value = String(at);
  row.element.classList.toggle("live-differs", differs);
  setText(row.was, v.fixed ? v.fixed + ": change it in the file"
    : differs ? "● in the file " + withUnit(v.file, v.unit) : v.by_option ? "set by the option" : "");
  row.write.hidden = row.back.hidden = !differs;
  row.write.disabled = Boolean(state.readout.fault);
  row.write.title = state.readout.fault ? state.readout.fault.title : "";
  setText(row.does, v.does || "");
}

// same tells whether the rows that stand there can show these values.
const same = (values) => values.length === rows.length &&
  values.every((v, i) => ["name", "unit", "fixed", "whole"].every((key) => v[key] === rows[i].value[key]));

// showValues takes over what the program has, unless something is on its way there.
function showValues() {
  if (!same(state.values)) {
    rows = state.values.map(rowOf);
    list.replaceChildren(...rows.map((row) => row.element));
  }
  const settled = !sending && state.move >= lastMove && !rows.some((row) => row.dragged);
  if (settled) {
    option = state.option;
    moved = {};
    for (const v of state.values) if (v.at !== v.file) moved[v.name] = v.at;
  }
  rows.forEach((row, i) => {
    row.value = state.values[i];
    showRow(row);
  });
  if (choice.options.length !== state.options.length ||
      state.options.some((name, i) => choice.options[i].value !== name)) {
    choice.replaceChildren(...state.options.map((name) => make("option", {value: name}, name)));
  }
  choice.value = option;
  chooser.hidden = state.options.length < 2;
}
