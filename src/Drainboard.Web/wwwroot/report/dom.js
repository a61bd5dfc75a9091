// Elements with less ink. Text is always text: nothing that a person or a server wrote is read as markup.
export function h(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  fill(made, attributes, children);
  return made;
}

export function s(tag, attributes = {}, ...children) {
  const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
  fill(made, attributes, children);
  return made;
}

function fill(made, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "hidden") made[name] = value;
    else made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...shown(children));
}

export const shown = children => children.flat(Infinity).filter(child => child !== null && child !== undefined && child !== false);

const paths = {
  care: ["M9 1.5L16.5 9 9 16.5 1.5 9zM9 5.5v4M9 12v.1"],
  leak: ["M9 1.5c3 4 5 6.3 5 9a5 5 0 0 1-10 0c0-2.7 2-5 5-9z", "solid"],
  deferred: ["M2 6h10l4 3-4 3H2z"],
  reported: ["M3 4h12v8H8l-4 3v-3H3z"],
  open: ["M12 3H3v12h12V6"],
  closed: ["M3 3h12v12H3zM3 15L15 3"],
};

// A word with its shape.
export const mark = (shape, word, warm) => h("span", { class: warm ? "tok warm" : "tok" }, s("svg", { viewBox: "0 0 18 18", "aria-hidden": "true" }, s("path", { d: paths[shape][0], class: paths[shape][1] })), word);

export const caution = (title, text) => h("div", { class: "caution" }, mark("care", "", true), h("div", {}, h("b", {}, title), " ", text));

export function choice(name, value, words, chosen, act) {
  return h("label", { class: "choice" }, h("input", { type: "radio", name, id: `${name}-${value}`, value, checked: chosen === value, onchange: () => act(value) }), h("span", {}, words));
}

export const tick = (name, words, on, act) => h("label", { class: "choice" }, h("input", { type: "checkbox", name, checked: on, onchange: event => act(event.target.checked) }), h("span", {}, words));
