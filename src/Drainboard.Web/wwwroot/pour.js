// The watch keeps the moment of its start and stop, not ticks: a locked screen, a reload or a lost connection costs it nothing.
const forgotten = 2 * 60 * 60 * 1000;
let frame = 0;

function bind() {
  const form = document.querySelector("form[data-keep=pour]");
  const watch = form?.querySelector("[data-stopwatch]");
  if (!watch) return;
  const [time, go, again] = ["output", "[data-start]", "[data-again]"].map(name => watch.querySelector(name));
  const [seconds, pouredAt] = ["[data-seconds]", "[data-poured-at]"].map(name => form.querySelector(name));
  const key = "watch " + (document.getElementById("field")?.dataset.person ?? "") + " " + location.pathname + location.search + "#pour";

  let state = {};
  try { state = JSON.parse(localStorage.getItem(key) ?? "{}"); } catch { /* Storage is closed or broken: the watch still runs while the page stands. */ }
  if (!(Date.now() - state.from < forgotten)) state = {};

  const keep = () => { try { localStorage.setItem(key, JSON.stringify(state)); } catch { /* As above. */ } };
  const passed = () => state.from ? Math.max(0, (state.to ?? Date.now()) - state.from) / 1000 : 0;

  function draw() {
    cancelAnimationFrame(frame);
    const running = state.from && !state.to;
    time.textContent = passed().toFixed(1) + " s";
    go.hidden = Boolean(state.to);
    go.textContent = running ? "Stop" : "Start";
    again.hidden = !state.to;
    if (running) frame = requestAnimationFrame(draw);
  }

  function take() {
    seconds.value = passed().toFixed(1);
    pouredAt.value = new Date(state.from).toISOString();
    seconds.dispatchEvent(new Event("input", { bubbles: true }));
  }

  go.onclick = () => {
    if (state.from) { state.to = Date.now(); take(); } else state = { from: Date.now() };
    keep(); draw();
  };
  again.onclick = () => { state = { from: Date.now() }; keep(); draw(); go.focus(); };
  document.onvisibilitychange = draw;
  // What was typed stands; the watch fills an empty field.
  if (state.to) { pouredAt.value = new Date(state.from).toISOString(); if (!seconds.value) take(); }
  draw();
}

document.addEventListener("bound", bind);
bind();
