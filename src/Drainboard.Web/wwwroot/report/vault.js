// What this device keeps. Everything that a person wrote is sealed with a key of theirs that no script can take out of the browser
// (AES-GCM, non-extractable); the next person on a shared tablet has another. docs/crew.md says what that does not protect against.
import { openDB } from "./idb.js";

export const device = "device";

let opened;
const db = () => opened ??= begin().catch(failure => { opened = undefined; throw failure; });
const begin = () => openDB("drainboard-report", 1, {
  upgrade(made) {
    made.createObjectStore("keys");
    made.createObjectStore("kept");
    made.createObjectStore("reports", { keyPath: "id" });
    made.createObjectStore("photos", { keyPath: "id" }).createIndex("report", "report");
  },
  terminated() { opened = undefined; },
});

async function keyOf(owner) {
  const known = await (await db()).get("keys", owner);
  if (known) return known;
  const made = await crypto.subtle.generateKey({ name: "AES-GCM", length: 256 }, false, ["encrypt", "decrypt"]);
  const transaction = (await db()).transaction("keys", "readwrite");
  // Another tab may have been faster: then its key rules.
  const first = await transaction.store.get(owner);
  if (!first) await transaction.store.put(made, owner);
  await transaction.done;
  return first ?? made;
}

export async function seal(owner, value) {
  const bytes = value instanceof Uint8Array ? value : new TextEncoder().encode(JSON.stringify(value));
  const iv = crypto.getRandomValues(new Uint8Array(12));
  return { iv, data: await crypto.subtle.encrypt({ name: "AES-GCM", iv }, await keyOf(owner), bytes) };
}

export async function unsealBytes(owner, sealed) {
  return new Uint8Array(await crypto.subtle.decrypt({ name: "AES-GCM", iv: sealed.iv }, await keyOf(owner), sealed.data));
}

export const unseal = async (owner, sealed) => JSON.parse(new TextDecoder().decode(await unsealBytes(owner, sealed)));

// Small things by name.
export async function keep(name, value, owner = device) { await (await db()).put("kept", await seal(owner, value), name); }

export async function kept(name, owner = device) {
  const sealed = await (await db()).get("kept", name);
  if (!sealed) return null;
  try { return await unseal(owner, sealed); } catch { return null; }
}

// Who is signed in, and since when nobody touched the screen: read and written in one step, so that a touch never undoes a lock.
export async function session(change) {
  const transaction = (await db()).transaction("kept", "readwrite");
  const now = await transaction.store.get("session");
  const next = change ? change(now) : now;
  if (next && next !== now) await transaction.store.put(next, "session");
  if (!next && now) await transaction.store.delete("session");
  await transaction.done;
  return next;
}

export const namesFrom = async prefix => (await (await db()).getAllKeys("kept", IDBKeyRange.bound(prefix, prefix + "\uffff")));

// Reports and their photos. A report and the end of its draft are one transaction: it is never in neither.
export const reports = async () => (await (await db()).getAll("reports")).sort((a, b) => a.at - b.at || (a.id < b.id ? -1 : 1));

export const report = async id => (await db()).get("reports", id);

export async function putReport(row, draft, instead) {
  const transaction = (await db()).transaction(["reports", "photos", "kept"], "readwrite", { durability: "strict" });
  transaction.objectStore("reports").put(row);
  if (draft) transaction.objectStore("kept").delete(draft);
  if (instead) await drop(transaction, instead);
  await transaction.done;
}

// Only while it is still the same person's: a report may have been handed over meanwhile.
export async function changeReport(id, change, owner) {
  const transaction = (await db()).transaction("reports", "readwrite", { durability: "strict" });
  const row = await transaction.store.get(id);
  if (row && (!owner || row.owner === owner)) await transaction.store.put({ ...row, ...change });
  await transaction.done;
}

export async function dropReport(id) {
  const transaction = (await db()).transaction(["reports", "photos"], "readwrite");
  await drop(transaction, id);
  await transaction.done;
}

async function drop(transaction, id) {
  transaction.objectStore("reports").delete(id);
  for (const key of await transaction.objectStore("photos").index("report").getAllKeys(id)) transaction.objectStore("photos").delete(key);
}

const photoKey = (report, sha) => `${report} ${sha}`;

export async function putPhoto(owner, report, sha, bytes) { await (await db()).put("photos", { id: photoKey(report, sha), report, owner, sealed: await seal(owner, bytes) }); }

export async function photo(owner, report, sha) {
  const row = await (await db()).get("photos", photoKey(report, sha));
  return row ? unsealBytes(row.owner, row.sealed) : null;
}

export async function dropPhoto(report, sha) { await (await db()).delete("photos", photoKey(report, sha)); }

// What was written before its person could sign in becomes theirs, once they say that it is: nobody looked at a PIN then. A report waits
// for their word; a draft is saved by them or not at all.
export async function hand(prefix, to) {
  for (const row of (await reports()).filter(row => row.owner.startsWith(prefix))) {
    const from = row.owner;
    const body = await unseal(from, row.sealed);
    for (const one of body.photos.filter(one => one.state === "kept")) await putPhoto(to, row.id, one.sha, await photo(from, row.id, one.sha));
    await putReport({ ...row, owner: to, sealed: await seal(to, body), state: "attention", reason: "confirm", words: null, nextAt: 0 });
  }
  for (const name of await namesFrom(`draft ${prefix}`)) await handDraft(name, to);
}

async function handDraft(name, to) {
  const [, from, tail, at] = name.split(" ");
  const theirs = `draft ${to} ${tail} ${at}`;
  const draft = await kept(name, from);
  // What the person began there themselves is finished first; the other one waits for their next sign-in.
  if (!draft || await kept(theirs, to)) return;
  for (const one of draft.photos) await putPhoto(to, draft.id, one.sha, await photo(from, draft.id, one.sha));
  await keep(theirs, draft, to);
  await (await db()).delete("kept", name);
}
