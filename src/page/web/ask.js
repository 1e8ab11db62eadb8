// What is asked for, from what a person types or an address says: yields, variants. Must not know the page.

const VULGAR = {
  "½": [1, 2], "⅓": [1, 3], "⅔": [2, 3], "¼": [1, 4], "¾": [3, 4], "⅕": [1, 5], "⅖": [2, 5], "⅗": [3, 5], "⅘": [4, 5],
  "⅙": [1, 6], "⅚": [5, 6], "⅐": [1, 7], "⅛": [1, 8], "⅜": [3, 8], "⅝": [5, 8], "⅞": [7, 8], "⅑": [1, 9], "⅒": [1, 10],
};
const MOST = whole(1000000000);

/** A plain decimal: `12`, `0.4`, `.5`. */
function decimal(text) {
  const found = /^(\d*)(?:\.(\d+))?$/.exec(text);
  if (!found || text.length === 0 || text.length > 60) throw new Refused("number", text);
  const [, units, decimals = ""] = found;
  return Exact.of(BigInt(units + decimals || "0"), 10n ** BigInt(decimals.length));
}

/** A number at the start of a text, and what follows it: `1`, `1.5`, `1/2`, `1 1/2`, `½`, `1½`. */
function leading(text) {
  const trimmed = text.trimStart();
  const vulgar = VULGAR[trimmed[0]];
  if (vulgar) return [ratio(...vulgar), trimmed.slice(1)];
  const found = /^[\d.]+/.exec(trimmed);
  if (!found) throw new Refused("number", trimmed);
  const first = decimal(found[0]);
  const rest = trimmed.slice(found[0].length);
  if (/^[,eE'][\d+-]/.test(rest)) throw new Refused("number", trimmed);
  if (rest.startsWith("/")) return over(first, rest.slice(1));
  const inner = rest.trimStart();
  if (VULGAR[inner[0]]) {
    if (!first.whole) throw new Refused("number", trimmed);
    return [first.plus(ratio(...VULGAR[inner[0]])), inner.slice(1)];
  }
  const mixed = inner.length < rest.length && first.whole ? /^([\d.]+)\//.exec(inner) : null;
  if (mixed) {
    const [part, behind] = over(decimal(mixed[1]), inner.slice(mixed[0].length));
    return [first.plus(part), behind];
  }
  return [first, rest];
}

function over(top, text) {
  const found = /^[\d.]+/.exec(text);
  const bottom = found && decimal(found[0]);
  const value = bottom && top.whole && bottom.whole ? top.over(bottom) : null;
  if (!value) throw new Refused("number", text);
  return [value, text.slice(found[0].length)];
}

/** A number alone, above zero. */
function numberOf(text) {
  const [value, rest] = leading(text);
  if (rest.trim() || value.sign <= 0) throw new Refused("number", text);
  return value;
}

/** Terms of one kind, above zero: `500 g`, `1 lb 14 oz`, `1 1/2 cups`, a bare count. */
function quantity(text, pattern) {
  const spelled = (word) => {
    const low = word.toLowerCase().replace(/\.+$/, "");
    if (pattern.units[low]) return pattern.units[low];
    const local = Object.entries(pattern.notation.units).find(([, names]) => names.some((name) => name.toLowerCase() === low));
    return local && pattern.units[local[0].toLowerCase()];
  };
  let rest = text.trim();
  let sum = null;
  while (rest) {
    const [number, after] = leading(rest);
    const unit = /^\s*(fl\.?\s+oz[^\s\d]*|[^\s\d]+)?/i.exec(after);
    const known = unit[1] === undefined ? ["count", "1"] : spelled(unit[1].replace(/^fl\.?\s+/i, "fl "));
    if (!known) throw new Refused("unit", unit[1]);
    const value = number.times(Exact.read(known[1]));
    if (sum && (sum.kind !== known[0] || known[0] === "count")) throw new Refused("number", text);
    sum = { kind: known[0], value: sum ? sum.value.plus(value) : value };
    rest = after.slice(unit[0].length).trimStart();
  }
  if (!sum || sum.value.sign <= 0) throw new Refused("number", text);
  if (sum.value.against(MOST) > 0) throw new Refused("beyond", text);
  return sum;
}

/** A weight in grams. */
function weightOf(text, pattern) {
  const found = quantity(text, pattern);
  if (found.kind !== "weight") throw new Refused("weight", text);
  return found.value;
}

/** What is on hand of an item, in grams. */
function onHand(item, text, pattern) {
  const found = quantity(text, pattern);
  const facts = pattern.items[itemOf(pattern, item)];
  const unit = { weight: ONE, volume: facts && facts.density, count: facts && facts.each }[found.kind];
  if (!unit) throw new Refused("weight", text);
  return { item, text, grams: found.value.times(unit) };
}

/** The item that a name stands for: itself, or that of the line of that key or id, as written. */
function itemOf(pattern, name) {
  if (pattern.items[name]) return name;
  for (const part of pattern.parts) {
    const at = part.keys.findIndex((key) => key === name || `${part.id}.${key}` === name);
    if (at >= 0) return part.items[at];
  }
  return null;
}

/** Digits alone, from 1 on. */
function countOf(text) {
  if (!/^\d+$/.test(text) || BigInt(text) < 1n || BigInt(text) > MOST_PIECES) throw new Refused("count", text);
  return new Exact(BigInt(text), 1n);
}

/**
 * What an address asks for: `{ at, kind, texts, asked }`. `at` is the variant's place, `texts` are as given. At most one
 * kind of yield, several `have`.
 */
function askedIn(fragment, pattern) {
  const fields = new URLSearchParams(fragment.replace(/^#/, ""));
  const id = fields.get("variant");
  const at = id === null ? 0 : pattern.variants.findIndex((variant) => variant.id === id);
  if (at < 0) throw new Refused("variant", id);
  const kinds = ["makes", "batch", "have", "times"].filter((kind) => fields.has(kind));
  if (kinds.length > 1) throw new Refused("two");
  const [kind = null] = kinds;
  const texts = kind ? fields.getAll(kind) : [];
  return { at, kind, texts, asked: kind ? read(kind, texts, pattern) : {} };
}

/** A yield of a kind from its texts. */
function read(kind, texts, pattern) {
  if (kind === "makes") return { makes: countOf(texts[0]) };
  if (kind === "batch") return { batch: weightOf(texts[0], pattern) };
  if (kind === "times") return { times: numberOf(texts[0]) };
  return {
    have: texts.map((text) => {
      const [item, amount = ""] = text.split(/=(.*)/s);
      return onHand(item.trim(), amount, pattern);
    }),
  };
}
