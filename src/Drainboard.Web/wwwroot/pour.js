// The watch keeps the moment of its start and stop, not ticks: a locked screen, a reload or a lost connection costs it nothing.
const form = document.querySelector("form[data-keep=pour]");
const watch = form?.querySelector("[data-stopwatch]");
const [time, go, again] = ["output", "[data-start]", "[data-again]"].map(name => watch?.querySelector(name));
const [seconds, pouredAt] = ["[data-seconds]", "[data-poured-at]"].map(name => form?.querySelector(name));
const key = "watch " + (document.getElementById("field")?.dataset.person ?? "") + " " + location.pathname + location.search + "#pour";
const forgotten = 2 * 60 * 60 * 1000;

let state = {};
try { state = JSON.parse(localStorage.getItem(key) ?? "{}"); } catch { /* Storage is closed or broken: the watch still runs while the page stands. */ }
if (!(Date.now() - state.from < forgotten)) state = {};

function keep() { try { localStorage.setItem(key, JSON.stringify(state)); } catch { /* As above. */ } }

function draw() {
  const running = state.from && !state.to;
  const passed = state.from ? Math.max(0, (state.to ?? Date.now()) - state.from) / 1000 : 0;
  time.textContent = passed.toFixed(1) + " s";
  go.hidden = Boolean(state.to);
  go.textContent = running ? "Stop" : "Start";
  again.hidden = !state.to;
  if (running) requestAnimationFrame(draw);
}

function take() {
  seconds.value = (Math.max(0, state.to - state.from) / 1000).toFixed(1);
  pouredAt.value = new Date(state.from).toISOString();
  seconds.dispatchEvent(new Event("input", { bubbles: true }));
}

if (watch) {
  go.addEventListener("click", () => {
    if (state.from) { state.to = Date.now(); take(); } else state = { from: Date.now() };
    keep(); draw();
  });
  again.addEventListener("click", () => { state = { from: Date.now() }; keep(); draw(); go.focus(); });
  document.addEventListener("visibilitychange", draw);
  if (state.to) take();
  draw();
}
