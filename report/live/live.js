// The live part of the page: it shows the newest state, has sections replaced by newer ones, and sends what is moved.
// All texts of the file go into the page as text, never as markup.
"use strict";

(() => {
  const place = document.getElementById("live");
  const sendEvery = 40; // ms between two moves, less than a beam model takes
  const redrawAfter = 4; // s without a connection before that is said

  // make is an element with its attributes, listeners and children.
  function make(name, attributes = {}, ...children) {
    const e = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (typeof value === "function") e.addEventListener(key, value);
      else if (value === true) e.setAttribute(key, "");
      else if (value !== false && value !== undefined) e.setAttribute(key, value);
    }
    e.append(...children);
    return e;
  }

  // withUnit is a number as the file has it, with its unit.
  const withUnit = (number, unit) => String(number) + (unit ? " " + unit : "");

  // setText changes a text only when it is another one, so that readers aloud are not told again.
  function setText(e, text) {
    if (e.textContent !== text) e.textContent = text;
  }

  // ---- what is asked of the program ----

  async function post(name, asked) {
    const response = await fetch(name, {
      method: "POST", headers: {"Content-Type": "application/json"}, body: JSON.stringify(asked),
    });
    if (response.status === 409) return {refused: (await response.json()).refused};
    if (!response.ok) return {refused: await response.text()};
    return response.json();
  }

  let state = null;
  let moved = {}; // numbers that are not those of the file, by name, as this page wants them
  let option = "";
  let lastMove = 0; // the last move that was taken in
  let sending = false;
  let again = false; // something was moved while a move was under way

  async function send() {
    if (sending) {
      again = true;
      return;
    }
    sending = true;
    do {
      again = false;
      try {
        const answer = await post("move", {option, values: moved});
        say(answer.refused || "");
        if (answer.move) lastMove = answer.move;
      } catch {
        lost();
      }
      await new Promise((done) => setTimeout(done, sendEvery));
    } while (again);
    sending = false;
    if (state) showValues();
  }

  async function write(row) {
    row.note.textContent = "";
    while (sending) await new Promise((done) => setTimeout(done, sendEvery)); // the number must be there to be written
    try {
      const answer = await post("write", {name: row.value.name});
      row.note.textContent = answer.refused ? "Not written: " + answer.refused + "." : "Written.";
    } catch {
      lost();
    }
  }

  // ---- the sliders ----

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

  // snapped is the number of a slider's step next to x; the file's own where it is that near.
  function snapped(x, v) {
    if (Math.abs(x - v.file) < v.step / 2) return v.file;
    return Number((Math.round(x / v.step) * v.step).toFixed(digits(v.step)));
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
    else to = snapped(Math.min(Math.max(to, Math.min(v.from, at)), Math.max(v.to, at)), v);
    if (to === at) to = Number((at + (ways[e.key] || 0) * v.step).toFixed(digits(v.step))); // the file's was next to it
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

  // ---- what the numbers do ----

  // The program's keys in words: which model answered, and what is still being worked out.
  const models = {beams: "beam model", meshes: "meshed model"};
  const following = {
    meshes: "the meshed answer follows", draws: "how sure that is follows", next: "what to change next follows",
  };

  function showReadout() {
    const r = state.readout;
    const columns = r.moved ? ["", "in the file", "now", "change", "how sure"] : ["", "now"];
    heads.replaceChildren(...columns.map((text) => make("th", {scope: "col"}, text)));
    readout.replaceChildren(...r.rows.map((row) => {
      const cells = r.moved ? [row.file || "", row.now, row.change || "", row.sure || ""] : [row.now];
      const tr = make("tr", {}, make("th", {scope: "row"}, row.what),
        ...cells.map((text, i) => make("td", {"data-column": columns[i + 1]}, text)));
      if (row.good) tr.className = row.good > 0 ? "live-good" : "live-bad";
      return tr;
    }));
    const differs = state.values.filter((v) => v.at !== v.file).map((v) => v.name + " " + withUnit(v.at, v.unit));
    let text = r.by === "" ? "Being worked out." : "By the " + models[r.by] + (r.pending ? "; " + following[r.pending] + "." : ".");
    if (differs.length) text += " Not in the file: " + differs.join(", ") + ".";
    setText(readoutHead, text);
    readoutHead.dataset.by = r.by;
    readoutHead.dataset.pending = r.pending;
    table.classList.toggle("live-beams", r.by === "beams");
    showFault(trouble, r.fault);
  }

  function showFault(where, f) {
    where.hidden = !f;
    const text = JSON.stringify(f || null);
    if (where.dataset.text === text) return;
    where.dataset.text = text;
    where.replaceChildren();
    if (!f) return;
    where.append(make("p", {class: "live-title"}, f.title));
    for (const p of f.places) {
      const item = make("p", {});
      if (p.at) item.append(make("strong", {}, p.at), " ");
      item.append(p.what);
      if (p.hint) item.append(make("br"), make("em", {}, p.hint));
      where.append(item);
      if (p.line !== undefined) where.append(make("pre", {}, p.line));
    }
  }

  // ---- the page itself ----

  let shownPage = 0;
  let fetching = false;
  const served = new Map(); // what each section was served as, by id

  const sectionsOf = (page) => [...page.querySelectorAll("header#verdict, main > section[id]")];

  for (const s of sectionsOf(document)) served.set(s.id, s.outerHTML);

  async function fetchPage() {
    if (fetching) return;
    fetching = true;
    try {
      while (state.page > shownPage) {
        const number = state.page;
        const whole = state.readout.pending === "";
        const response = await fetch("./");
        if (!response.ok) break;
        const page = new DOMParser().parseFromString(await response.text(), "text/html");
        // Scripts come with a page as it is opened: the first machine, and one where there was no picture of it.
        if (page.scripts.length !== document.scripts.length) {
          location.reload();
          return;
        }
        replaceSections(page, whole);
        shownPage = number;
      }
    } catch {
      lost();
    }
    fetching = false;
  }

  // replaceSections puts in what is new, and leaves alone what is as it was. What a page that is still in the making has
  // not yet stays as it was, and is marked.
  function replaceSections(page, whole) {
    const fresh = sectionsOf(page);
    const names = new Set(fresh.map((s) => s.id));
    for (const old of sectionsOf(document)) {
      if (names.has(old.id)) continue;
      old.classList.toggle("live-old", !whole);
      if (whole) {
        served.delete(old.id);
        old.remove();
      }
    }
    let before = null;
    for (const s of fresh) {
      const html = s.outerHTML;
      let old = document.getElementById(s.id);
      if (!old) {
        const here = document.importNode(s, true);
        if (before && before.parentElement.localName === "main") before.after(here);
        else document.querySelector("main").prepend(here);
        old = here;
      } else if (served.get(s.id) !== html && !replaceMachine(old, s)) {
        const here = document.importNode(s, true);
        const open = [...old.querySelectorAll("details")].map((d) => d.open);
        here.querySelectorAll("details").forEach((d, i) => { if (open[i]) d.open = true; });
        old.replaceWith(here);
        old = here;
      }
      old.classList.remove("live-old");
      served.set(s.id, html);
      before = old;
    }
    document.title = page.title;
  }

  // replaceMachine gives the machine that can be turned another shape, as it is turned; false where there is none.
  function replaceMachine(old, fresh) {
    const data = fresh.querySelector("script#scene");
    if (!data || !window.tiploopScene || !old.querySelector("#machine canvas")) return false;
    try {
      window.tiploopScene.replace(data.textContent);
    } catch {
      return false;
    }
    old.querySelector("h2").replaceWith(document.importNode(fresh.querySelector("h2"), true));
    const stills = [...fresh.querySelector("#machine").children].map((e) => document.importNode(e, true));
    for (const e of stills) {
      e.hidden = true;
      e.classList.add("scene-still"); // stays for printing
    }
    const machine = old.querySelector("#machine");
    machine.querySelectorAll(":scope > .scene-still").forEach((e) => e.remove());
    machine.prepend(...stills);
    return true;
  }

  // The machine that is shown is that of the option whose numbers are turned, and the other way round; but not away from
  // numbers that were moved.
  let tries = 0;
  function joinMachine() {
    if (!window.tiploopScene || !state) {
      if (++tries < 100) setTimeout(joinMachine, 100); // it comes when the page has been painted, or not at all
      return;
    }
    window.tiploopScene.choose({option});
    document.getElementById("machine").addEventListener("scenechosen", (e) => {
      const name = e.detail.option;
      if (name === option || Object.keys(moved).length || !state.options.includes(name)) return;
      option = name;
      send();
    });
  }
  if (!document.documentElement.hasAttribute("data-shell")) joinMachine();

  // ---- news from the program ----

  function show(news) {
    state = news;
    if (lostSince) say("");
    lostSince = 0;
    showValues();
    showReadout();
    showFault(fault, state.fault);
    document.body.classList.toggle("live-faulty", Boolean(state.fault));
    if (!fault.isConnected) {
      document.getElementById("verdict").before(fault);
    }
    if (document.documentElement.hasAttribute("data-shell")) {
      if (state.page > 1) location.reload(); // there is a machine now
      return;
    }
    if (state.page > shownPage) fetchPage();
  }

  const events = new EventSource("events");
  events.addEventListener("message", (e) => show(JSON.parse(e.data)));
  events.addEventListener("error", () => {
    if (!lostSince) lostSince = Date.now();
    setTimeout(() => { if (lostSince && Date.now() - lostSince >= redrawAfter * 1000) lost(); }, redrawAfter * 1000);
  });
})();
