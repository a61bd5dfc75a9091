// One aircraft: its cabin to choose a fixture from, and what is usable now.
import * as cabin from "./cabin.js";
import * as people from "./people.js";
import { caution, h, mark, s } from "./dom.js";
import { ago, t, time } from "./words.js";
import { go, head, place, tabs } from "./page.js";

export function tailsView(fleet, person) {
  const rows = [...fleet.body.tails].sort((a, b) => b.here - a.here);
  const pick = h("div", { class: "pick" }, rows.map(tail => h("button", { type: "button", onclick: () => go({ tail: tail.registration }) }, h("span", {}, tail.registration), h("span", { class: "quiet small" }, `${tail.here ? t("tail.here") + " · " : ""}${tail.layout.split("/")[0]}`))));
  const find = fleet.body.tails.length > 8 && h("div", {}, h("label", { class: "name", for: "find" }, t("tail.find")), h("input", { type: "text", id: "find", autocapitalize: "characters", autocomplete: "off", spellcheck: "false", oninput: event => { const part = event.target.value.trim().toUpperCase(); for (const button of pick.children) button.hidden = !button.textContent.includes(part); } }));
  return [head(t("report"), null, person, h("span", { class: "quiet" }, t("tail.which"))), find, pick];
}

const other = here => here?.device?.onlyTail ? null : h("button", { type: "button", onclick: () => go({ view: "tails" }) }, t("tail.other"));

export async function knownOn(tail, person) {
  const ticket = person.own ? null : await people.ticketOf(person.id);
  return await cabin.nowKept(tail) ?? (person.own || ticket ? await cabin.now(tail, ticket) : null);
}

const waterNotice = now => now?.body.waterNotServed && caution(t("water.not"), t("water.not.words"));

export const knownAt = (now, at) => now?.body.fixtures.find(one => one.position === at);

export async function cabinView(person, tail, plan) {
  const now = await knownOn(tail, person);
  const chosen = place().area;
  const areas = plan.areas.filter(area => !chosen || area.name === chosen);
  const line = fixture => {
    const known = knownAt(now, fixture.position);
    return h("button", { type: "button", onclick: () => go({ tail, at: fixture.position }) }, h("span", {}, fixture.name), known && useMark(known.use));
  };
  return [head(t("report"), tail, person, other(await people.known())), tabs("report"), waterNotice(now),
    h("div", { class: "cabin-pick" }, planPicture(plan, now, chosen, tail), h("div", { class: "areas" },
      chosen && h("button", { type: "button", class: "slim", onclick: () => go({ tail }) }, t("area.all")),
      areas.map(area => h("section", { class: "sheet", "aria-label": area.name }, h("h2", {}, area.name), h("div", { class: "pick" }, area.fixtures.map(line))))))];
}

// The cabin from above, nose up; each part of it is a place to tap, where there is somewhere to go.
function planPicture(plan, now, chosen, tail, taps = true) {
  const y = along => 14 + along * 3.6;
  const at = plan.areas.map(area => ({ area, from: Math.min(...area.fixtures.map(one => one.along)), to: Math.max(...area.fixtures.map(one => one.along)) }));
  const bands = taps && at.map((one, index) => {
    const top = index ? (at[index - 1].to + one.from) / 2 : 0;
    const end = index + 1 < at.length ? (one.to + at[index + 1].from) / 2 : 100;
    const act = () => go({ tail, area: chosen === one.area.name ? "" : one.area.name });
    return s("g", { role: "button", tabindex: "0", "aria-label": one.area.name, "aria-pressed": String(chosen === one.area.name), onclick: act, onkeydown: event => { if (event.key === "Enter" || event.key === " ") { event.preventDefault(); act(); } } },
      s("rect", { class: chosen === one.area.name ? "area on" : "area", x: "4", width: "84", y: y(top), height: Math.max(24, y(end) - y(top)) }));
  });
  const dots = plan.areas.flatMap(area => area.fixtures).map(one => {
    const known = knownAt(now, one.position);
    return s("circle", { class: known ? known.use === "doNotUse" ? "dot warm" : "dot known" : "dot", cx: 14 + one.across * 0.64, cy: y(one.along), r: known ? 5 : 3 });
  });
  return s("svg", { class: "plan", viewBox: "0 0 92 390", role: taps ? "group" : "img", "aria-label": t(taps ? "plan" : "plan.seen") }, s("path", { class: "hull", d: "M46 4C76 4 88 40 88 80V340C88 370 66 386 46 386S4 370 4 340V80C4 40 16 4 46 4Z" }), dots, bands);
}

const useShapes = { withCare: ["care", true], asPlacarded: ["deferred", false], doNotUse: ["closed", true] };

export const useMark = use => mark(useShapes[use][0], t("use." + use), useShapes[use][1]);

export function knownLines(known) {
  return known.known.map(one => h("div", {},
    h("b", {}, t("symptom." + one.symptom)), one.leak === "leaking" ? [" ", mark("leak", t("leak.mark"), true)] : "",
    h("div", { class: "quiet small" }, `${one.reference} · ${!one.sectorsAgo ? t("seen.at", { at: time(one.seenAt) }) : t("seen.sectors", { count: one.sectorsAgo })} · ${t("state." + one.state)}`),
    one.placard && h("div", {}, t("placard", { words: one.placard, where: one.placardWhere ?? "" })),
    one.conditions.map(condition => h("div", {}, condition)),
    one.dueAt && h("div", { class: "quiet small" }, t("due", { at: time(one.dueAt) })),
    h("div", {}, t("do." + (one.leak === "leaking" ? "leaks" : one.symptom)))));
}

// All that is not as it should be, at one glance: on the plan, and by part of the cabin.
function together(plan, now, tail) {
  const areas = plan.areas.map(area => ({ name: area.name, known: area.fixtures.filter(one => knownAt(now, one.position)) }));
  return h("section", { class: "sheet", "aria-label": t("together") }, h("h2", {}, t("together")), h("div", { class: "cabin-pick" }, planPicture(plan, now, null, tail, false), h("div", {},
    areas.map(area => h("div", { class: "list-item" }, h("h3", {}, area.name), area.known.length ? area.known.map(one => h("div", { class: "row" }, h("b", {}, one.name), h("span", { class: "end" }, useMark(knownAt(now, one.position).use)))) : h("p", { class: "quiet" }, t("together.none")))))));
}

export async function usableView(person, tail, plan) {
  const now = await knownOn(tail, person);
  return [head(t("tab.usable"), tail, person, other(await people.known())), tabs("usable"),
    now ? h("p", { class: "said" }, t("as-of", { at: time(now.body.asOf), ago: ago(Date.now() - now.at) })) : h("p", { class: "trouble" }, t("now.none")),
    waterNotice(now), now && together(plan, now, tail), caution(t("caution.hot"), t("caution.hot.words")),
    plan.areas.map(area => h("section", { class: "sheet", "aria-label": area.name }, h("h2", {}, area.name),
      [...area.fixtures].sort((a, b) => Boolean(knownAt(now, b.position)) - Boolean(knownAt(now, a.position))).map(fixture => { const known = knownAt(now, fixture.position); return h("div", { class: "list-item" }, h("div", { class: "row" }, h("b", {}, fixture.name), h("span", { class: "end" }, known ? useMark(known.use) : h("span", { class: "quiet" }, t(now ? "use.usable" : "use.unknown")))), known && knownLines(known)); }),
      area.note && h("div", {}, h("h3", {}, t("not-down.note")), h("p", {}, area.note)))),
    h("section", { class: "sheet" }, h("h2", {}, t("not-down")), h("p", {}, t("not-down.words"))),
    caution(t("caution.waste"), t("caution.waste.words")), caution(t("caution.electrics"), t("caution.electrics.words")), h("p", { class: "quiet small" }, t("use.rule"))];
}
