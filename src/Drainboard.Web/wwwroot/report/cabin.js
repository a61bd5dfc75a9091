// The cabins and what is known of them, as last fetched: kept here so that they are there without a connection.
import * as vault from "./vault.js";
import { ask } from "./server.js";

const stale = 2 * 60 * 1000;
const daily = 6 * 3600 * 1000;

async function through(name, path, ticket, after) {
  const old = await vault.kept(name);
  if (old && Math.abs(Date.now() - old.at) < after) return old;
  const answer = await ask(path, { ticket, timeout: old ? 8000 : 30000 });
  if (answer.kind !== "ok") return old;
  const fresh = { at: Date.now(), body: answer.body };
  await vault.keep(name, fresh).catch(() => {});
  return fresh;
}

// A guest for one tail is shown that one, and does not take the others away from the next person.
const fleetName = person => person.onlyTail ? `fleet ${person.onlyTail}` : "fleet";
export const fleet = (person, ticket) => through(fleetName(person), "/api/v1/cabin", ticket, daily);
export const fleetKept = person => vault.kept(fleetName(person));
export const now = (tail, ticket) => through(`now ${tail}`, `/api/v1/cabin/${encodeURIComponent(tail)}`, ticket, stale);
export const nowKept = tail => vault.kept(`now ${tail}`);
export const mine = (owner, ticket) => through(`mine ${owner}`, "/api/v1/reports/mine", ticket, stale);
export const mineKept = owner => vault.kept(`mine ${owner}`);

export function planOf(fleet, tail) {
  const row = fleet?.body.tails.find(one => one.registration === tail);
  return row ? fleet.body.layouts.find(one => one.key === row.layout) : null;
}

export const fixtureOf = (plan, at) => plan?.areas.flatMap(area => area.fixtures).find(one => one.position === at) ?? null;
