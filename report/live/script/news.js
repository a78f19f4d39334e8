// News from the program.

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
