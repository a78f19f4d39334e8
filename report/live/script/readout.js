// What the numbers do, and what is wrong with them.

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
