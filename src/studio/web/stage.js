// The card in sight, what is behind it, and the strip of all cards.
import { address, el, fill, find, later } from "./kit.js";

let card = el("img", { id: "card", alt: "" });
const frame = find("frame"), safe = find("safe"), strip = find("strip");
const size = find("size"), behind = find("behind"), lines = find("lines"), grab = find("grab"), pick = find("pick");
let picture = null;
let shown = { name: "title", version: 0 };
let current = null;
let asking = 0;

const keep = (name, value) => { try { localStorage.setItem(`studio.${name}`, value); } catch { /* a private window keeps nothing */ } };
const kept = (name) => { try { return localStorage.getItem(`studio.${name}`); } catch { return null; } };

/** `wish` says what is to be seen: recipe, yield, variant. */
export function stage(wish, chosen) {
  frame.prepend(card);
  behind.value = ["checker", "black", "white"].includes(kept("behind")) ? kept("behind") : "checker";
  lines.checked = kept("lines") === "yes";

  function ground() {
    frame.dataset.ground = behind.value;
    frame.style.backgroundImage = behind.value === "grab" && picture ? `url("${picture}")` : "";
    pick.hidden = behind.value !== "grab";
    safe.hidden = !lines.checked;
  }
  behind.addEventListener("change", () => {
    keep("behind", behind.value);
    ground();
    if (behind.value === "grab" && !picture) grab.click();
  });
  lines.addEventListener("change", () => { keep("lines", lines.checked ? "yes" : "no"); ground(); });
  pick.addEventListener("click", () => grab.click());
  grab.addEventListener("change", () => take(grab.files[0]));
  size.addEventListener("change", () => { keep("frame", size.value); fit(); draw(); chosen(); });

  /** A picture stays in this page's memory and goes nowhere. */
  function take(file) {
    if (!file?.type.startsWith("image/")) return;
    if (picture) URL.revokeObjectURL(picture);
    picture = URL.createObjectURL(file);
    behind.value = "grab";
    ground();
  }
  const easel = find("easel");
  easel.addEventListener("dragover", (event) => { event.preventDefault(); easel.classList.add("over"); });
  easel.addEventListener("dragleave", () => easel.classList.remove("over"));
  easel.addEventListener("drop", (event) => { event.preventDefault(); easel.classList.remove("over"); take(event.dataTransfer.files[0]); });
  document.addEventListener("paste", (event) => {
    const file = [...(event.clipboardData?.files ?? [])].find((file) => file.type.startsWith("image/"));
    if (file) take(file);
  });
  // A file that misses its place must not lead the page away.
  for (const kind of ["dragover", "drop"]) window.addEventListener(kind, (event) => event.preventDefault());

  function fit() {
    const now = current?.frames.find((one) => one.id === size.value);
    if (!now) return;
    frame.style.setProperty("--ratio", String(now.width / now.height));
    frame.style.aspectRatio = `${now.width} / ${now.height}`;
    const share = (part, whole) => `${(100 * part) / whole}%`;
    safe.style.inset = [share(now.safe.top, now.height), share(now.safe.right, now.width), share(now.safe.bottom, now.height), share(now.safe.left, now.width)].join(" ");
    for (const part of [strip, find("easel")]) part.classList.toggle("tall", now.height > now.width);
  }

  const link = (name, version, small) => address("card.png", { ...wish(), frame: size.value, card: name, small: small ? "1" : "", v: version });

  /** Draws the card in sight; the old one stays until the new one is there. */
  async function draw(version = shown.version) {
    shown.version = version;
    const asked = ++asking;
    const next = new Image();
    next.src = link(shown.name, version, false);
    try {
      await next.decode();
    } catch {
      if (asked === asking) document.body.dataset.undrawn = String(version);
      return;
    }
    if (asked !== asking) return;
    // The decoded picture itself takes the old one's place: nothing is fetched or decoded twice.
    next.id = "card";
    next.alt = card.alt;
    card.replaceWith(next);
    card = next;
    delete document.body.dataset.undrawn;
    document.body.dataset.drawn = String(version);
    document.body.dataset.drawnAt = String(Date.now());
  }

  function show(name, quiet = false) {
    shown.name = name;
    mark();
    draw();
    if (!quiet) chosen();
  }

  function mark() {
    for (const button of strip.querySelectorAll("button")) {
      const here = button.dataset.card === shown.name;
      button.setAttribute("aria-current", here ? "true" : "false");
      if (!here) continue;
      // Only the strip moves, never the page.
      const { left, right } = button.getBoundingClientRect(), edge = strip.getBoundingClientRect();
      if (left < edge.left || right > edge.right) strip.scrollLeft += left - edge.left - 20;
    }
  }

  /** Lays out the strip; the pictures that are there stay until theirs have come. */
  function deal(view) {
    const there = new Map([...strip.querySelectorAll("button")].map((button) => [button.dataset.card, button]));
    if (!view.cards.some((one) => one.name === shown.name)) {
      shown.name = view.cards[0]?.name ?? "title";
      draw(view.version);
    }
    const says = view.cards.find((one) => one.name === shown.name)?.says ?? [];
    card.alt = `Card ${shown.name}: ${says.join(", ")}`;
    fill(strip, view.cards.map((one, at) => {
      const button = there.get(one.name) ?? el("button", { type: "button", "data-card": one.name, click: () => show(one.name) },
        el("img", { alt: "", loading: "lazy", decoding: "async" }), el("span", { text: one.name.replaceAll("-", " ") }));
      button.querySelector("img").src = link(one.name, view.version, true);
      button.querySelector("span").dataset.number = String(at + 1);
      return el("li", {}, button);
    }));
    mark();
    find("place").textContent = `${view.cards.findIndex((one) => one.name === shown.name) + 1} of ${view.cards.length}`;
  }
  strip.addEventListener("keydown", (event) => {
    const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    const all = [...strip.querySelectorAll("button")];
    const at = all.indexOf(document.activeElement);
    if (!step || at < 0) return;
    event.preventDefault();
    const next = all[Math.min(all.length - 1, Math.max(0, at + step))];
    next.focus();
    settle(next.dataset.card);
  });
  const settle = later(40, (name) => show(name));

  function frames(channel) {
    current = channel;
    const before = size.value || kept("frame");
    fill(size, channel.frames.map((one) => el("option", { value: one.id, text: `${one.id}, ${one.width} × ${one.height}` })));
    if (channel.frames.some((one) => one.id === before)) size.value = before;
    fit();
    ground();
  }

  return { draw, show, deal, frames, frame: () => size.value, card: () => shown.name };
}
