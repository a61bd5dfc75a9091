// Who is at this device. On an enrolled tablet a person gives a PIN: with a connection the server looks at it and gives a ticket; without
// one it is held against what is kept here from the last time. Elsewhere it is whoever has signed in with a password.
import * as vault from "./vault.js";
import { ask } from "./server.js";

const idle = 4 * 60 * 1000;
const mostTries = 5;
const lockedFor = 10 * 60 * 1000;
const rounds = 310000;
const fresh = 7 * 24 * 3600 * 1000;

// { operator, isDemo, device, person } as the server last said; null where it cannot be reached.
export async function refresh() {
  const answer = await ask("/api/v1/devices/this", { timeout: 8000 });
  if (answer.kind !== "ok" || typeof answer.body.operator !== "string") return null;
  await vault.keep("here", answer.body);
  return answer.body;
}

export const known = () => vault.kept("here");

export const everybody = async () => await vault.kept("people") ?? [];

const alone = act => navigator.locks ? navigator.locks.request("drainboard-people", act) : act();

// One entry a person; the worker and another tab write here too. A stranger's entry never takes the place of a person's own.
const put = person => alone(async () => {
  const others = (await everybody()).filter(one => one.id !== person.id && (person.waits || one.userName !== person.userName));
  await vault.keep("people", [...others, person]);
});

// The person who is signed in here now, or null.
export async function current() {
  const here = await known();
  const session = await vault.session();
  if (isLive(session)) {
    const person = (await everybody()).find(one => one.id === session.person);
    if (person) return person;
  }
  if (here?.person && !here.device) return { ...here.person, own: true };
  return null;
}

const isLive = session => Boolean(session) && Math.abs(Date.now() - session.at) < idle;

export const touch = () => vault.session(now => isLive(now) ? { ...now, at: Date.now() } : now);

export const lock = async () => { await vault.session(() => null); changed(); };

// Other tabs look who is there now.
const news = "BroadcastChannel" in globalThis ? new BroadcastChannel("drainboard-report") : null;
const changed = () => news?.postMessage("person");

const begin = async id => { await vault.session(() => ({ person: id, at: Date.now() })); changed(); };

// Answers null when the person is in, else a key of words that says why not.
export async function signIn(userName, pin) {
  userName = userName.trim().toLowerCase();
  const mine = (await everybody()).find(one => one.userName === userName && !one.waits);
  if (mine?.lockedUntil > Date.now() && mine.lockedUntil < Date.now() + 2 * lockedFor) return "pin.locked";
  if (mine?.check && await matches(mine.check, pin)) {
    await put({ ...mine, tries: 0, lockedUntil: 0 });
    // In good time, and never in the person's way: a fresh ticket for the weeks to come. Whether one is still good the server says: this clock may be wrong.
    if (!mine.ticket || Math.abs(Date.now() - mine.got) > fresh) {
      const answer = await fetchTicket(userName, pin);
      if (answer.kind === "refused" && answer.body?.refusal !== "device-locked" || answer.kind === "sign-in") {
        // The server looked at it, and it is not theirs any more.
        await put({ ...mine, ticket: null, check: null });
        return answer.kind === "sign-in" ? "device.gone" : refusal(answer);
      }
    }
    await vault.hand(strangerId(userName) + ":", mine.id);
    await begin(mine.id);
    return null;
  }
  const answer = await fetchTicket(userName, pin);
  if (answer.kind === "ok") { await begin(answer.body.person.id); return null; }
  if (mine?.check) {
    const tries = (mine.tries ?? 0) + 1;
    await put({ ...mine, tries: tries % mostTries, lockedUntil: tries >= mostTries ? Date.now() + lockedFor : 0 });
    return refusal(answer);
  }
  return answer.kind === "unsent" || answer.kind === "busy" ? "pin.offline" : answer.kind === "sign-in" ? "device.gone" : refusal(answer);
}

const refusal = answer => ({ "pin-locked": "pin.locked", "device-locked": "pin.device-locked" })[answer.body?.refusal] ?? "pin.wrong";

async function fetchTicket(userName, pin) {
  const answer = await ask("/api/v1/devices/this/sign-in", { method: "POST", json: { userName, pin } });
  if (answer.kind !== "ok" || !answer.body.ticket) return answer;
  const { person, ticket } = answer.body;
  await put({ ...person, userName, ticket, got: Date.now(), check: await checkOf(pin), tries: 0, lockedUntil: 0 });
  await vault.hand(strangerId(userName) + ":", person.id);
  return answer;
}

const strangerId = userName => "name:" + encodeURIComponent(userName);

// Nobody has looked at their PIN yet and there is no connection: what they write is kept, and goes once they sign in.
export async function unknown(userName) {
  userName = userName.trim().toLowerCase();
  // Each time anew: what one wrote under a name is not opened by the next who gives the same.
  const id = `${strangerId(userName)}:${crypto.randomUUID()}`;
  await put({ id, name: userName, userName, mayReport: true, waits: true });
  await begin(id);
}

export async function ticketOf(owner) {
  return (await everybody()).find(one => one.id === owner)?.ticket ?? null;
}

// The server does not take this ticket any more: the person signs in again.
export async function spent(owner, ticket) {
  const person = (await everybody()).find(one => one.id === owner);
  if (person && person.ticket === ticket) await put({ ...person, ticket: null, check: null });
}

async function keyFrom(pin, salt) {
  const base = await crypto.subtle.importKey("raw", new TextEncoder().encode(pin), "PBKDF2", false, ["deriveKey"]);
  return crypto.subtle.deriveKey({ name: "PBKDF2", hash: "SHA-256", salt, iterations: rounds }, base, { name: "AES-GCM", length: 256 }, false, ["encrypt", "decrypt"]);
}

const plain = bytes => [...new Uint8Array(bytes)];

async function checkOf(pin) {
  const salt = crypto.getRandomValues(new Uint8Array(16));
  const iv = crypto.getRandomValues(new Uint8Array(12));
  const data = await crypto.subtle.encrypt({ name: "AES-GCM", iv }, await keyFrom(pin, salt), new TextEncoder().encode("it is me"));
  return { salt: plain(salt), iv: plain(iv), data: plain(data) };
}

async function matches(check, pin) {
  try { await crypto.subtle.decrypt({ name: "AES-GCM", iv: new Uint8Array(check.iv) }, await keyFrom(pin, new Uint8Array(check.salt)), new Uint8Array(check.data)); return true; }
  catch { return false; }
}

// A code that an administrator made lets this device in, once.
export async function enrol(code) {
  const answer = await ask("/api/v1/devices/this/enrolment", { method: "POST", json: { code } });
  if (answer.kind !== "ok") return answer.body?.detail ?? null;
  await refresh();
  return "";
}
