// A source's text with its errors marked in place as one types. The text lies clear over a copy that carries the marks.
import { Refusal, ask, el, fill, later, say, sentence, tell } from "./kit.js";

export function editor() {
  const gutter = el("div", { class: "gutter", "aria-hidden": "true" });
  const marks = el("pre", { class: "marks", "aria-hidden": "true" });
  const area = el("textarea", { id: "source", spellcheck: "false", autocapitalize: "off", autocomplete: "off", wrap: "off", "aria-describedby": "found" });
  const which = el("select", { id: "file" });
  const save = el("button", { type: "button", id: "save", text: "Save", disabled: true });
  const undo = el("button", { type: "button", class: "quiet", id: "back", text: "As it was", disabled: true });
  const state = el("span", { class: "soft", id: "written" });
  const clash = el("div", { class: "clash", hidden: true, role: "alert" });
  const found = el("ul", { id: "found", class: "found" });
  const root = el("div", { class: "words" },
    el("div", { class: "row" }, el("label", {}, "File ", which), save, undo, state),
    clash,
    el("div", { class: "paper" }, gutter, el("div", { class: "sheet" }, marks, el("label", { class: "unseen", for: "source", text: "Text" }), area)),
    found);

  let open = { path: "", seen: "", text: "", end: "\n", mark: "" };
  let findings = [];
  const dirty = () => area.value !== open.text;

  function paint() {
    const lines = area.value.split("\n");
    const bad = new Map();
    for (const one of findings) {
      const list = bad.get(one.place.line) ?? [];
      list.push(one);
      bad.set(one.place.line, list);
    }
    fill(gutter, lines.map((_, at) => {
      const here = bad.get(at + 1);
      const worst = here?.some((one) => one.severity === "error") ? "error" : here ? "warning" : "";
      return el("span", { class: worst, text: String(at + 1), title: here?.map((one) => sentence(one.message)).join("\n") });
    }));
    fill(marks, lines.flatMap((line, at) => marked(line, bad.get(at + 1) ?? [])));
    save.disabled = !dirty();
    undo.disabled = !dirty();
    state.textContent = dirty() ? "not saved yet" : "";
    roll();
  }

  /** A line's pieces: plain text and marks, by characters as the studio counts them. */
  function marked(line, list) {
    const letters = [...line];
    const pieces = [];
    let from = 0;
    for (const one of [...list].sort((a, b) => a.place.column - b.place.column)) {
      const start = Math.max(from, Math.min(letters.length, one.place.column - 1));
      const end = Math.max(start, Math.min(letters.length, start + Math.max(1, one.place.length)));
      pieces.push(letters.slice(from, start).join(""));
      pieces.push(el("mark", { class: one.severity, text: letters.slice(start, end).join("") || " " }));
      from = end;
    }
    pieces.push(letters.slice(from).join("") + "\n");
    return pieces;
  }

  function roll() {
    gutter.scrollTop = area.scrollTop;
    marks.scrollTop = area.scrollTop;
    marks.scrollLeft = area.scrollLeft;
  }
  area.addEventListener("scroll", roll);

  function list() {
    const errors = findings.filter((one) => one.severity === "error").length;
    fill(found, findings.length === 0 ? el("li", { class: "soft", text: "Nothing is wrong in this file." })
      : findings.map((one) => el("li", { class: one.severity },
        el("button", { type: "button", class: "plain", click: () => go(one.place.line, one.place.column) },
          el("b", { text: `Line ${one.place.line}` }), ` ${sentence(one.message)}`, one.hint ? el("span", { class: "soft", text: ` ${sentence(one.hint)}` }) : null))));
    area.setAttribute("aria-invalid", errors > 0 ? "true" : "false");
  }

  let checking = 0;
  async function check() {
    const asked = ++checking;
    try {
      const answer = await tell("check", { path: open.path, text: whole() });
      if (asked !== checking) return;
      findings = answer.findings.filter((one) => one.place?.path === open.path);
      paint();
      list();
    } catch (refusal) {
      if (!(refusal instanceof Refusal)) throw refusal;
      say(sentence(refusal.message), true);
    }
  }
  const soon = later(180, check);
  area.addEventListener("input", () => { paint(); soon(); });
  area.addEventListener("keydown", (event) => {
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") {
      event.preventDefault();
      write();
    }
  });
  save.addEventListener("click", write);
  undo.addEventListener("click", () => { area.value = open.text; paint(); check(); });
  which.addEventListener("change", () => load(which.value));

  /** The file's own line ends and byte-order mark come back; an area knows neither. */
  const whole = () => open.mark + area.value.replaceAll("\n", open.end);

  async function write() {
    if (!dirty()) return;
    try {
      const text = area.value;
      const answer = await tell("save", { path: open.path, text: whole(), seen: open.seen });
      open = { ...open, seen: answer.seen, text };
      clash.hidden = true;
      paint();
      say(`Saved ${open.path}. What it held before is kept.`);
    } catch (refusal) {
      if (refusal.status === 409) return clashed();
      say(sentence(refusal.message), true);
    }
  }

  function clashed() {
    clash.hidden = false;
    fill(clash, el("p", { text: `${open.path} was changed elsewhere since it was read here. Nothing was written.` }),
      el("button", { type: "button", text: "Read it anew", click: () => load(open.path, true) }),
      el("button", { type: "button", class: "quiet", text: "Keep mine, and save it over that", click: async () => {
        const there = await ask("text", { path: open.path });
        open.seen = there.seen;
        write();
      } }));
  }

  async function load(path, force = false) {
    if (dirty() && !force && path !== open.path && !window.confirm(`${open.path} is not saved. Leave it?`)) {
      which.value = open.path;
      return;
    }
    let there;
    try {
      there = await ask("text", { path });
    } catch (refusal) {
      which.value = open.path;
      return say(sentence(refusal.message), true);
    }
    const mark = there.text.startsWith("\ufeff") ? "\ufeff" : "";
    const text = there.text.slice(mark.length);
    open = { path: there.path, seen: there.seen, mark, end: text.includes("\r\n") ? "\r\n" : "\n", text: text.replaceAll("\r\n", "\n") };
    area.value = open.text;
    which.value = open.path;
    clash.hidden = true;
    findings = [];
    paint();
    check();
  }

  /** The file was changed by somebody: what is not being edited here follows. */
  async function follow() {
    if (!open.path) return;
    const there = await ask("text", { path: open.path }).catch(() => null);
    if (!there || there.seen === open.seen) return check();
    if (dirty()) clashed();
    else {
      const { scrollTop, scrollLeft, selectionStart } = area;
      await load(open.path, true);
      area.setSelectionRange(selectionStart, selectionStart);
      Object.assign(area, { scrollTop, scrollLeft });
      roll();
    }
  }

  function files(paths, recipe) {
    const own = paths.filter((path) => path.startsWith(`${recipe}/`));
    const rest = paths.filter((path) => !path.includes("/"));
    const options = (list) => list.map((path) => el("option", { value: path, text: path }));
    fill(which, el("optgroup", { label: "This dish" }, options(own)), el("optgroup", { label: "The channel" }, options(rest)));
    which.value = open.path;
  }

  function go(line, column) {
    const lines = area.value.split("\n");
    const start = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0) + [...(lines[line - 1] ?? "")].slice(0, column - 1).join("").length;
    area.focus();
    area.setSelectionRange(start, start);
    area.scrollTop = Math.max(0, (line - 6) * parseFloat(getComputedStyle(area).lineHeight));
    roll();
  }

  window.addEventListener("beforeunload", (event) => { if (dirty()) event.preventDefault(); });
  return { root, load, follow, files, go, path: () => open.path, dirty };
}
