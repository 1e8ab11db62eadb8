// What every part of the page uses: making elements, asking the studio, telling people. No text becomes markup here.

/** An element with attributes (a function is a listener) and children; texts are texts. */
export function el(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") node.addEventListener(name, value);
    else if (name === "text") node.textContent = value;
    else if (name in node && name !== "list" && typeof value !== "string") node[name] = value;
    else node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
  return node;
}

export const find = (id) => document.getElementById(id);

/** Puts children in place of those that are there. */
export function fill(node, ...children) {
  node.replaceChildren(...children.flat().filter((child) => child !== null && child !== undefined && child !== false));
}

/** Why the studio would not. */
export class Refusal extends Error {
  constructor(status, body) {
    super(body.error ?? "the studio does not answer");
    this.status = status;
    this.body = body;
  }
}

async function answer(response) {
  const body = await response.json().catch(() => ({}));
  if (!response.ok) throw new Refusal(response.status, body);
  return body;
}

export function address(path, fields = {}) {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(fields)) {
    for (const one of Array.isArray(value) ? value : [value]) {
      if (one !== null && one !== undefined && one !== "") query.append(name, one);
    }
  }
  return query.size ? `${path}?${query}` : path;
}

export const ask = (path, fields, options) => fetch(address(path, fields), options).then(answer);

export const tell = (path, body, options = {}) =>
  fetch(path, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), ...options }).then(answer);

let quieting;
/** A word to whoever looks or listens; it goes by itself unless it matters. */
export function say(text, matters = false) {
  const line = find("sounding");
  line.textContent = text;
  line.classList.toggle("odd", matters);
  clearTimeout(quieting);
  if (!matters) quieting = setTimeout(() => { line.textContent = ""; }, 6000);
}

/** Runs `work` when nothing has come for a while; what comes meanwhile puts it off. */
export function later(wait, work) {
  let timer;
  return (...given) => {
    clearTimeout(timer);
    timer = setTimeout(() => work(...given), wait);
  };
}

/** Backticks around names are for terminals. */
export const words = (text) => (text ?? "").replaceAll("`", "");

/** A sentence begins with a capital and ends with a stop; findings are written for a line of a terminal. */
export function sentence(text) {
  const plain = words(text).trim();
  // A file's or a key's name stays as it is written.
  const named = /^[`‘]/.test(text.trim());
  return plain ? (named ? plain[0] : plain[0].toUpperCase()) + plain.slice(1) + (/[.!?…]$/.test(plain) ? "" : ".") : "";
}

/** Money as it must be shown: with a word that prices are missing, where they are. */
export const known = (complete, text) => complete || !text ? text : `${text} of what is known`;

export const count = (number, one, several) => `${number} ${number === 1 ? one : several}`;
