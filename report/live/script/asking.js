// What is asked of the program.

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
