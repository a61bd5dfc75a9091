// The words of one language, from a file beside this one. A language more is a file more, and its name here.
export const languages = { en: "English", de: "Deutsch" };

let words = {};
let plural = new Intl.PluralRules("en");
export let language = "en";

export async function load(wish) {
  const wanted = [wish, ...navigator.languages ?? []].map(name => name?.slice(0, 2).toLowerCase()).find(name => name in languages) ?? "en";
  const answer = await fetch(`/report/words/${wanted}.json`);
  words = await answer.json();
  language = wanted;
  plural = new Intl.PluralRules(wanted);
  document.documentElement.lang = wanted;
  document.title = t("report");
}

// A text by its key, with {names} filled in; with {count}, in the form that the language has for that number.
export function t(key, values = {}) {
  const text = "count" in values ? words[`${key}.${plural.select(values.count)}`] ?? words[`${key}.other`] : words[key];
  return (text ?? key).replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
}

export function ago(ms) {
  const minutes = Math.floor(ms / 60000);
  // The clock was put back since: how long ago it was is not known.
  if (minutes < -1) return t("ago.unknown");
  if (minutes < 1) return t("ago.now");
  if (minutes < 60) return t("ago.min", { min: minutes });
  if (minutes < 48 * 60) return t("ago.h", { h: Math.floor(minutes / 60), min: minutes % 60 });
  return t("ago.d", { d: Math.floor(minutes / 1440) });
}

export const time = at => new Intl.DateTimeFormat(language, { weekday: "short", day: "numeric", month: "short", hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(new Date(at));
