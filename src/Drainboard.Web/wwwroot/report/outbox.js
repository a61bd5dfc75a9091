// Reports on their way. A report leaves this device only when the server's number for it is stored here; until then it is tried again:
// on load, when a connection comes, when the page is seen again, by a timer, by Background Sync where there is one, and by hand.
import * as vault from "./vault.js";
import { ask } from "./server.js";
import * as people from "./people.js";

const piece = 128 * 1024;
const longest = 5 * 60 * 1000;
const mostReceived = 50;
const news = "BroadcastChannel" in globalThis ? new BroadcastChannel("drainboard-report") : null;
const told = new Set();

export function onChange(act) { told.add(act); news?.addEventListener("message", act); }

export function say() { news?.postMessage("changed"); for (const act of told) act(); }

// The one id of a report, made here: RFC 9562, version 7.
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const now = Date.now();
  for (let at = 0; at < 6; at++) bytes[at] = Math.floor(now / 2 ** (8 * (5 - at))) & 255;
  bytes[6] = bytes[6] & 15 | 112;
  bytes[8] = bytes[8] & 63 | 128;
  const hex = [...bytes].map(byte => byte.toString(16).padStart(2, "0")).join("");
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

// A correction takes the place of what it corrects, in one step.
export async function add(owner, body, draft, instead) {
  await vault.putReport({ id: body.wish.id, owner, at: Date.now(), state: "kept", reason: null, tries: 0, nextAt: 0, reference: null, sealed: await vault.seal(owner, body) }, draft, instead);
  say();
}

export const unsent = async () => (await vault.reports()).filter(row => row.state !== "received");

// One tab, or the worker, sends at a time; where the browser has no locks the server tells doubles apart by their id.
export const sendAll = (forced = false) => navigator.locks ? navigator.locks.request("drainboard-outbox", { ifAvailable: !forced }, lock => lock && go(forced)) : go(forced);

// What its person must look at first is not sent behind their back. A clock that was put back does not hold anything up.
const isDue = (row, forced) => row.reason === "sign-in" || row.state === "kept" && (forced || row.nextAt <= Date.now() || row.nextAt > Date.now() + longest);

async function go(forced) {
  const waiting = (await unsent()).filter(row => isDue(row, forced));
  if (!waiting.length) return await tidy();
  const here = await people.refresh();
  if (!here) return "unsent";
  for (const row of waiting) {
    const outcome = await send(row, here).catch(() => "busy");
    if (outcome === "unsent") { say(); return outcome; }
  }
  await tidy();
  say();
  return "done";
}

async function send(old, here) {
  // As it is now: it may have been handed to its person, or looked at, since the round began.
  let row = await vault.report(old.id);
  if (!row || row.owner !== old.owner || row.reason !== old.reason) return "changed";
  const ticket = await people.ticketOf(row.owner);
  if (!ticket && here.person?.id !== row.owner) return await attention(row, "sign-in");
  const body = await vault.unseal(row.owner, row.sealed);
  if (!row.reference) {
    sending.add(row.id); say();
    const answer = await ask("/api/v1/reports", { method: "POST", json: body.wish, ticket, headers: { "X-Reporter": row.owner } }).finally(() => sending.delete(row.id));
    if (answer.kind === "sign-in") { await people.spent(row.owner, ticket); return await attention(row, "sign-in"); }
    if (answer.kind === "refused") return await attention(row, "refused", answer.body?.detail ?? String(answer.status));
    if (answer.kind !== "ok" || !answer.body.id || !answer.body.reference) return await later(row, answer.kind === "ok" ? "unsent" : answer.kind);
    row = { ...row, reference: answer.body.reference, defect: answer.body.id, receivedAt: Date.now() };
    await vault.changeReport(row.id, { reference: row.reference, defect: row.defect, receivedAt: row.receivedAt }, row.owner);
    say();
  }
  for (const one of body.photos.filter(one => one.state === "kept")) {
    const outcome = await sendPhoto(row, one, ticket);
    if (outcome === "gone") { await vault.changeReport(row.id, { reference: null }); return await later(row, "busy"); }
    if (outcome === "sign-in") { await people.spent(row.owner, ticket); return await attention(row, "sign-in"); }
    if (outcome === "busy" || outcome === "unsent") return await later(row, outcome);
    await vault.changeReport(row.id, { sealed: await vault.seal(row.owner, body) }, row.owner);
    if (one.state === "sent") await vault.dropPhoto(row.id, one.sha);
  }
  const refused = body.photos.find(one => one.state === "refused");
  if (refused) return await attention(row, "photo", refused.words);
  await vault.changeReport(row.id, { state: "received", reason: null }, row.owner);
  return "received";
}

// A photo goes in pieces, from where the last attempt ended.
async function sendPhoto(row, one, ticket) {
  const path = `/api/v1/reports/${row.id}/photos/${one.sha}`;
  const bytes = await vault.photo(row.owner, row.id, one.sha);
  let arrived = await ask(path, { ticket });
  for (let round = 0; round < 400; round++) {
    if (arrived.status === 404) return "gone";
    if (arrived.body?.refusal === "photo-range" || arrived.body?.refusal === "photo-hash") return "busy";
    if (arrived.kind === "refused") { one.state = "refused"; one.words = arrived.body?.detail ?? ""; return "refused"; }
    if (arrived.kind !== "ok") return arrived.kind;
    if (arrived.body.complete || arrived.status === 200 && arrived.body.id) { one.state = "sent"; return "sent"; }
    // Neither here nor there: it is not said to be sent.
    if (!bytes) { one.state = "missing"; return "missing"; }
    // All of it there and not taken yet: the last byte once more makes the server look again.
    const from = Math.min(arrived.body.received, bytes.length - 1);
    const next = bytes.subarray(from, Math.min(bytes.length, from + piece));
    arrived = await ask(path, { method: "PUT", bytes: next, ticket, headers: { "Content-Range": `bytes ${from}-${from + next.length - 1}/${bytes.length}`, "Content-Type": "application/octet-stream" } });
  }
  return "busy";
}

async function later(row, outcome) {
  const wait = Math.min(longest, 5000 * 2 ** Math.min(row.tries, 10)) * (0.5 + Math.random());
  await vault.changeReport(row.id, { state: "kept", reason: null, tries: row.tries + 1, nextAt: Date.now() + Math.min(longest, wait) }, row.owner);
  return outcome;
}

async function attention(row, reason, words = "") {
  await vault.changeReport(row.id, { state: "attention", reason, words: await vault.seal(row.owner, { words }) }, row.owner);
  return "attention";
}

// Its person says that it is theirs.
export async function confirm(id) {
  await vault.changeReport(id, { state: "kept", reason: null, nextAt: 0 });
  say();
  await sendAll(true);
}

// Its person says that it is not theirs, twice: the one way in which a report ends that was not sent.
export async function discard(id) {
  await vault.dropReport(id);
  say();
}

// A photo that the server cannot take is let go by the person, never by us.
export async function letPhotosGo(id) {
  const row = await vault.report(id);
  const body = await vault.unseal(row.owner, row.sealed);
  for (const one of body.photos.filter(one => one.state === "refused")) { await vault.dropPhoto(id, one.sha); one.state = "let go"; }
  await vault.changeReport(id, { state: "kept", reason: null, nextAt: 0, sealed: await vault.seal(row.owner, body) });
  say();
}

// Of what the server holds, the newest are listed here without asking it. Counted, not dated: this clock may jump.
async function tidy() {
  const arrived = (await vault.reports()).filter(row => row.state === "received");
  for (const row of arrived.slice(0, Math.max(0, arrived.length - mostReceived))) await vault.dropReport(row.id);
}

export const sending = new Set();
