// What the rest is made with. All texts of the file go into the page as text, never as markup.

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
