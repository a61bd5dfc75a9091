// A person's own reports: those on this device, and those that arrived, with what became of them.
import * as vault from "./vault.js";
import * as outbox from "./outbox.js";
import * as cabin from "./cabin.js";
import { h, mark } from "./dom.js";
import { ago, t, time } from "./words.js";
import { go, head, place, tabs } from "./page.js";

export async function mineView(person, tail) {
  const rows = (await vault.reports()).filter(row => row.owner === person.id).reverse();
  const here = await Promise.all(rows.map(async row => ({ row, body: await vault.unseal(row.owner, row.sealed), words: row.words ? (await vault.unseal(row.owner, row.words).catch(() => ({ words: "" }))).words : "" })));
  const drafts = await Promise.all((await vault.namesFrom(`draft ${person.id} `)).map(async name => ({ name, draft: await vault.kept(name, person.id) })));
  const arrived = (await cabin.mineKept(person.id))?.body ?? [];
  const local = new Set(here.map(one => one.row.id));
  const saved = here.find(one => one.row.id === place().saved);
  return [head(t("tab.mine"), tail, person), tabs("mine"),
    saved && h("div", { class: "good", role: "status", id: "saved" }, saved.row.state === "received" ? t("saved.received", { reference: saved.row.reference }) : t("saved.here")),
    saved?.body.wish.leak === "leaking" && h("p", { class: "trouble" }, t("leak.now"), " ", t("leak.now.words")),
    drafts.length > 0 && h("section", { class: "sheet", "aria-label": t("drafts") }, h("h2", {}, t("drafts")), drafts.map(({ name, draft }) => h("div", { class: "list-item row" }, h("span", {}, draft?.name ?? ""), h("span", { class: "quiet small" }, t("state.draft")), h("button", { type: "button", class: "slim end", id: `open ${name}`, onclick: () => openDraft(name) }, t("go-on"))))),
    h("section", { class: "sheet", "aria-label": t("tab.mine") }, h("h2", {}, t("tab.mine")),
      !here.length && !arrived.length && h("p", { class: "quiet" }, t("mine.none")),
      here.map(one => item(one, arrived.find(other => other.id === one.row.id))),
      arrived.filter(one => !local.has(one.id)).map(one => h("div", { class: "list-item" }, h("div", { class: "row" }, h("b", {}, one.fixtureName), h("span", { class: "quiet" }, one.tail)), h("div", {}, t("symptom." + one.symptom), " ", h("span", { class: "quiet small" }, time(one.seenAt))), became(one)))),
    h("button", { class: "go", type: "button", id: "another", onclick: () => go({ tail }) }, t("another"))];
}

function item({ row, body, words }, arrived) {
  return h("div", { class: "list-item", "data-report": row.id }, h("div", { class: "row" }, h("b", {}, body.name), h("span", { class: "quiet" }, body.tail), h("span", { class: "end", "data-state": row.state }, stateMark(row))),
    h("div", {}, t("symptom." + body.wish.symptom), " ", h("span", { class: "quiet small" }, time(body.wish.seenAt), body.photos.length > 0 && ` · ${t("photos.sent", { sent: body.photos.filter(one => one.state === "sent").length, all: body.photos.length })}`)),
    row.reason === "sign-in" && h("p", { class: "trouble" }, t("attention.sign-in")),
    row.reason === "confirm" && confirmation(row),
    row.reason === "refused" && h("div", { class: "trouble" }, h("p", {}, t("attention.refused")), h("p", {}, words), h("button", { type: "button", id: `again ${row.id}`, onclick: () => again(row, body) }, t("attention.change"))),
    row.reason === "photo" && h("div", { class: "trouble" }, h("p", {}, t("attention.photo")), h("p", {}, words), h("button", { type: "button", id: `let-go ${row.id}`, onclick: () => outbox.letPhotosGo(row.id).then(() => outbox.sendAll(true)) }, t("attention.photo.go"))),
    arrived && became(arrived));
}

const asked = new Map();

// Somebody wrote it under this person's name before anybody could look at a PIN.
function confirmation(row) {
  // Asked twice, and not by one double tap; that it was asked once outlives a redrawing.
  const no = h("button", { type: "button", id: `no ${row.id}`, onclick: () => { if (!asked.has(row.id)) { asked.set(row.id, Date.now()); no.textContent = t("confirm.sure"); } else if (Date.now() - asked.get(row.id) > 1000) outbox.discard(row.id); } }, t(asked.has(row.id) ? "confirm.sure" : "confirm.no"));
  return h("div", { class: "trouble" }, h("p", {}, t("confirm")), h("div", { class: "actions" }, h("button", { type: "button", id: `yes ${row.id}`, onclick: () => outbox.confirm(row.id) }, t("confirm.yes")), no));
}

const stateMark = row => outbox.sending.has(row.id) && row.state !== "received" ? mark("open", t("state.sending"))
  : row.state === "received" ? mark("reported", t("state.got", { reference: row.reference }))
  : row.state === "attention" ? mark("care", t("state.attention"), true)
  : mark("open", row.reference ? t("state.got", { reference: row.reference }) : t("state.kept", { ago: ago(Date.now() - row.at) }));

// What became of it, from values: the sentence is made in the reader's language.
function became(one) {
  const key = one.state === "closed" ? "became." + (one.closure ?? "rectified") : "became." + one.state;
  const found = one.found && one.found !== "nothing" ? t("became.found", { found: t("found." + one.found), where: one.foundAt ?? "" }) : "";
  return h("div", { class: one.state === "closed" ? "good" : "quiet" }, `${one.reference}: ${t(key, { station: one.station ? t("at", { station: one.station }) : "", at: one.dueAt ? time(one.dueAt) : "" })} ${found}`.trim());
}

async function openDraft(name) {
  const [, , tail, at] = name.split(" ");
  await go({ tail, at });
}

// Refused as it stands: its contents are a draft again, under an id of their own; it goes once that one is saved.
async function again(row, body) {
  const { wish } = body;
  const name = `draft ${row.owner} ${wish.tail} ${wish.position}`;
  // What was begun there already is finished first; nothing is written over.
  if (await vault.kept(name, row.owner)) return await go({ tail: wish.tail, at: wish.position });
  const id = outbox.newId();
  for (const one of body.photos.filter(one => one.state === "kept")) await vault.putPhoto(row.owner, id, one.sha, await vault.photo(row.owner, row.id, one.sha));
  const local = text => text ? text.slice(0, 16) : "";
  await vault.keep(name, { ...wish, id, corrects: row.id, name: body.name, seenAt: local(wish.seenAt), photos: body.photos.filter(one => one.state === "kept"), log: wish.log ? { ...wish.log, at: local(wish.log.loggedAt) } : null }, row.owner);
  await go({ tail: wish.tail, at: wish.position });
}
