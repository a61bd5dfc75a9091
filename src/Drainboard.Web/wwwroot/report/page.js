// The report page: who, which aircraft, which fixture, what is seen. What is shown is in the address, so that back, reload and a scanned
// code all work.
import * as vault from "./vault.js";
import * as people from "./people.js";
import * as outbox from "./outbox.js";
import * as cabin from "./cabin.js";
import * as words from "./words.js";
import { h, shown } from "./dom.js";
import { signInView } from "./sign-in.js";
import { cabinView, usableView, tailsView } from "./aircraft.js";
import { formView } from "./form.js";
import { mineView } from "./mine.js";
import { showUnsent } from "./unsent.js";

const { t } = words;
const page = document.getElementById("page");

export const place = () => Object.fromEntries(new URLSearchParams(location.search));

export async function go(to, replace = false) {
  const query = new URLSearchParams(Object.entries(to).filter(([, value]) => value)).toString();
  history[replace ? "replaceState" : "pushState"](null, "", "/report" + (query ? "?" + query : ""));
  await show();
  scrollTo(0, 0);
  page.querySelector("h1")?.focus({ preventScroll: true });
}

let turn = 0;
export async function show() {
  const mine = ++turn;
  let view;
  try { view = await choose(); }
  catch (failure) {
    console.error(failure);
    view = [head(t("report")), h("p", { class: "trouble", role: "alert" }, t("page-trouble"))];
  }
  if (mine !== turn) return;
  const focused = document.activeElement?.id;
  page.replaceChildren(...shown([view]), foot());
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  await showUnsent();
}

async function choose() {
  const here = await people.known();
  const person = await people.current();
  page.dataset.person = person?.id ?? "";
  if (!person) return signInView(here);
  if (!person.mayReport) return [head(t("report"), null, person), h("p", { class: "trouble" }, t("may-not-report"))];
  const ticket = person.own ? null : await people.ticketOf(person.id);
  const fleet = await cabin.fleetKept(person);
  if (!fleet) {
    const fresh = (person.own || ticket) && await cabin.fleet(person, ticket);
    if (!fresh) return [head(t("report"), null, person), h("p", { class: "trouble" }, t("fleet.none"))];
  }
  const to = place();
  const tail = here?.device?.onlyTail ?? to.tail ?? await vault.kept("tail");
  const plan = cabin.planOf(fleet ?? await cabin.fleetKept(person), tail);
  if (!plan || to.view === "tails") return tailsView(fleet ?? await cabin.fleetKept(person), person);
  if (await vault.kept("tail") !== tail) await vault.keep("tail", tail);
  const fixture = cabin.fixtureOf(plan, to.at);
  if (fixture) return formView(person, tail, plan, fixture);
  if (to.view === "usable") return usableView(person, tail, plan);
  if (to.view === "mine") return mineView(person, tail);
  return cabinView(person, tail, plan);
}

// What stands on top: the page, the aircraft, and who is signed in.
export function head(title, tail, person, more) {
  return h("header", { class: "top" }, h("h1", { tabindex: "-1" }, title),
    h("div", { class: "who" }, tail && h("b", {}, tail), more,
      person && h("span", { class: "quiet end" }, person.name),
      person?.own && h("a", { href: "/" }, t("home")),
      person && !person.own && h("button", { type: "button", id: "lock", onclick: async () => { await people.lock(); await show(); } }, t("lock"))));
}

export function tabs(view) {
  const tab = (name, label) => h("button", { type: "button", id: "tab-" + name, "aria-pressed": String(view === name), onclick: () => go({ tail: place().tail, view: name === "report" ? "" : name }) }, label);
  return h("nav", { class: "tabs", "aria-label": t("views") }, tab("report", t("tab.report")), tab("usable", t("tab.usable")), tab("mine", t("tab.mine")));
}

function foot() {
  const language = h("select", { id: "language", "aria-label": t("language"), onchange: async event => { await vault.keep("language", event.target.value); await words.load(event.target.value); await show(); } },
    Object.entries(words.languages).map(([key, name]) => h("option", { value: key, selected: key === words.language }, name)));
  const light = h("select", { id: "light", "aria-label": t("light"), onchange: event => { lightOf(event.target.value); try { localStorage.setItem("light", event.target.value); } catch { /* It is asked again next time. */ } } },
    ["system", "day", "night", "outdoors"].map(name => h("option", { value: name, selected: document.documentElement.dataset.theme === name }, t("light." + name))));
  return h("footer", { class: "quiet small" }, h("span", {}, t("beside")), language, light);
}

function lightOf(name) { document.documentElement.dataset.theme = name; }

// Seen again after a while: an idle tablet is locked, what waits is sent, what is known is fetched anew.
async function wake() {
  await redrawForAnother();
  outbox.sendAll();
}

// Somebody else signed in, in another tab perhaps, or nobody is any more: what stands here is not theirs to see.
async function redrawForAnother() {
  if (((await people.current())?.id ?? "") !== page.dataset.person) await show();
}

async function refresh() {
  const person = await people.current();
  const to = place();
  const tail = (await people.known())?.device?.onlyTail ?? to.tail ?? await vault.kept("tail");
  if (!person) return;
  const ticket = person.own ? null : await people.ticketOf(person.id);
  // Without a ticket of theirs nothing is asked: it would be asked as whoever has a cookie here.
  if (!person.own && !ticket) return;
  const before = [await cabin.fleetKept(person), tail && await cabin.nowKept(tail)];
  const after = [await cabin.fleet(person, ticket), tail && await cabin.now(tail, ticket), await cabin.mine(person.id, ticket)];
  // Whoever is filling a form is not disturbed.
  if (!to.at && (before[0]?.at !== after[0]?.at || before[1]?.at !== after[1]?.at)) await show();
}

try { lightOf(localStorage.getItem("light") ?? document.documentElement.dataset.theme); } catch { /* No storage for it: the system's light. */ }
try { await words.load(await vault.kept("language").catch(() => null)); }
catch { page.append(h("p", { class: "trouble" }, "This page could not be loaded whole: the network answered with something else. Load it again with a connection.")); }
if (!(await people.known().catch(() => null))) await people.refresh().catch(() => null);
await show();
page.dataset.ready = "yes";

addEventListener("popstate", show);
addEventListener("online", () => outbox.sendAll());
document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") wake(); });
for (const touch of ["pointerdown", "keydown"]) addEventListener(touch, () => people.touch().catch(() => {}), { passive: true });
setInterval(async () => { await wake(); await showUnsent(); }, 30000);
setInterval(refresh, 120000);
outbox.onChange(() => { redrawForAnother(); showUnsent(); if (place().view === "mine") show(); });
const before = JSON.stringify(await people.known());
people.refresh().then(async here => { await redrawForAnother(); if (here && JSON.stringify(here) !== before && !place().at) await show(); await refresh(); await outbox.sendAll(); }).catch(() => {});
navigator.storage?.persist?.();
navigator.serviceWorker?.register("/report-sw.js", { scope: "/report", type: "module" }).catch(() => {});
