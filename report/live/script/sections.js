// The page itself: sections are replaced by newer ones, and what is as it was is left alone.

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
