// The desk's drawers: amounts, costs, prices, notes, what was said, the take, and what is to mend.
import { Refusal, ask, count, el, fill, known, later, say, sentence, tell, words } from "./kit.js";

const table = (caption, heads, rows) => el("div", { class: "scroll", tabIndex: 0, role: "region", "aria-label": caption },
  el("table", {}, el("caption", { class: "unseen", text: caption }),
    el("thead", {}, el("tr", {}, heads.map((head) => el("th", { scope: "col", class: head.end ? "end" : null, text: head.text })))),
    el("tbody", {}, rows)));
const cell = (text, end = false, more = {}) => el("td", { class: end ? "end" : null, text: text ?? "", ...more });
const head = (text) => el("th", { scope: "row", text });
const refused = (refusal) => {
  if (!(refusal instanceof Refusal)) throw refusal;
  say(sentence(refusal.message), true);
};

/** What is weighed, in the order it is weighed. */
export function amounts() {
  const root = el("div");
  return {
    root,
    show({ sheet }) {
      const { yields, hydration } = sheet;
      const facts = [
        ["Makes", yields.pieces], ["Weighed in", yields.total], ["One weighs", yields.each], ["Basis", yields.basis && `${yields.basis} ${yields.basis_names.join(", ")}`],
        ["Hydration", hydration.nominal && (hydration.effective ? `${hydration.nominal}, ${hydration.effective} with what is in the rest` : hydration.nominal)],
        ["Costs", sheet.cost.lines.length ? known(sheet.cost.complete, sheet.cost.total) : "no price yet"], ["Each", sheet.cost.lines.length ? known(sheet.cost.complete, sheet.cost.each) : null], ["Allergens", sheet.allergens.join(", ")],
        ["Not known", sheet.allergens_unknown.length ? `allergens of ${sheet.allergens_unknown.join(", ")}` : null], ["Holds as", sheet.diet.join(", ")],
      ].filter(([, text]) => text);
      fill(root,
        sheet.parts.map((part) => el("section", {}, part.title ? el("h3", { text: part.title }) : null,
          table(part.title ?? "Amounts", [{ text: "Of" }, { text: "Amount", end: true }, { text: "Percent", end: true }],
            part.lines.map((line) => el("tr", {}, el("th", { scope: "row" }, line.name, line.note ? el("small", { text: line.note }) : null),
              el("td", { class: "end" }, el("b", { text: line.amount }), line.household && line.household !== line.amount ? el("small", { text: line.household }) : null), cell(line.percent, true)))))),
        el("dl", { class: "facts" }, facts.flatMap(([name, text]) => [el("dt", { text: name }), el("dd", { text })])),
        sheet.cautions.length ? el("details", {}, el("summary", { text: count(sheet.cautions.length, "caution", "cautions") }),
          sheet.cautions.map((one) => el("p", {}, el("b", { text: `${one.title}. ` }), one.text)), el("p", { class: "soft", text: sheet.cautions[0].general })) : null);
    },
  };
}

/** What it costs, and what another price would do. */
export function costs(wish, frame, toCard) {
  const root = el("div"), rows = el("div"), said = el("div", { "aria-live": "polite", class: "moves" }), all = el("ul", { class: "log" });
  const whole = el("button", { type: "button", text: "All that would change", disabled: true, click: everything });
  const level = el("button", { type: "button", class: "quiet", text: "Back to today’s prices", disabled: true, click: () => { changes.clear(); show(last); } });
  root.append(rows, el("div", { class: "outcome" }, said, el("div", { class: "row" }, whole, level), all));
  const changes = new Map();
  let last = null, asking = 0;
  const list = () => [...changes].filter(([, percent]) => percent !== 0).map(([item, percent]) => ({ item, change: `${percent > 0 ? "+" : ""}${percent}%` }));

  async function suppose() {
    const asked = ++asking, moves = list();
    whole.disabled = level.disabled = moves.length === 0;
    fill(all);
    if (moves.length === 0) return fill(said);
    try {
      const answer = await tell("what-if", { ...wish(true), frame: frame(), changes: moves });
      if (asked === asking) told(answer);
    } catch (refusal) { refused(refusal); }
  }
  const soon = later(60, suppose);

  const move = ({ from, to }) => from === to ? el("span", { text: from ?? "–" }) : el("span", {}, el("s", { text: from ?? "–" }), " → ", el("b", { text: to ?? "–" }));
  function told({ recipes, cards }) {
    const own = recipes.find((one) => one.id === wish(true).recipe);
    const others = recipes.filter((one) => one !== own && one.total.from !== one.total.to);
    const partial = [own, ...others].some((one) => one && !one.complete);
    fill(said,
      own ? el("dl", { class: "facts" }, [["This batch", own.total], ["Each", own.each], ["At the till", own.basket]].filter(([, pair]) => pair.from)
        .flatMap(([name, pair]) => [el("dt", { text: name }), el("dd", {}, move(pair))])) : null,
      cards.length ? el("p", {}, `${count(cards.length, "card changes", "cards change")}: `, cards.map((name) => el("button", { type: "button", class: "chip", text: name.replaceAll("-", " "), click: () => toCard(name) }))) : el("p", { class: "soft", text: "No card of this dish would read otherwise." }),
      others.length ? table("Other dishes", [{ text: "Also" }, { text: "Batch", end: true }], others.map((one) => el("tr", {}, head(one.title), el("td", { class: "end" }, move(one.total))))) : null,
      partial ? el("p", { class: "odd", text: "Where prices are missing, only what is known is counted." }) : null);
  }

  async function everything() {
    whole.disabled = true;
    fill(all, el("li", { class: "soft", text: "Making every card both ways…" }));
    try {
      const { said: sayings, lines } = await tell("what-if", { ...wish(true), frame: frame(), changes: list(), all: true });
      fill(all, [...sayings.map(sentence), ...lines].map((text) => el("li", { text: words(text) })), el("li", { class: "soft", text: "Nothing was written." }));
    } catch (refusal) { fill(all); refused(refusal); }
    whole.disabled = list().length === 0;
  }

  function show(view) {
    last = view;
    const { cost } = view.sheet;
    const item = new Map(view.lines.map((line) => [line.id, line.item]));
    fill(rows,
      cost.lines.length === 0 ? null : el("p", { class: "sum" }, el("b", { text: cost.total }), cost.complete ? " for this batch" : " of what is known", cost.each ? `, ${known(cost.complete, `${cost.each} each`)}` : "", `, ${known(cost.complete, `${cost.basket} at the till`)}`),
      cost.missing.length ? el("p", { class: "odd", text: `No price yet: ${cost.missing.map(([, name]) => name).join(", ")}` }) : null,
      el("ul", { class: "levers" }, cost.lines.map((line) => {
        const key = item.get(line.id);
        const percent = changes.get(key) ?? 0;
        const out = el("output", { text: percent ? `${percent > 0 ? "+" : ""}${percent} %` : "today’s" });
        const bar = el("span", { class: "bar" }, el("i"));
        bar.firstChild.style.inlineSize = `${line.bar / 10}%`;
        return el("li", {}, el("span", { class: "name", text: line.name }), el("span", { class: "end", text: line.free ? "free" : line.cost }), bar,
          key && !line.free ? el("input", { type: "range", min: "-50", max: "100", step: "5", value: String(percent), "aria-label": `Price of ${line.name}, in percent more or less`, input: (event) => {
            const value = Number(event.target.value);
            changes.set(key, value);
            out.textContent = value ? `${value > 0 ? "+" : ""}${value} %` : "today’s";
            soon();
          } }) : el("span"), key && !line.free ? out : el("span"));
      })));
    suppose();
  }
  return { root, show, forget: () => changes.clear() };
}

/** The price book, and a purchase to add. */
export function prices(after) {
  const list = el("div"), items = el("datalist", { id: "items" });
  const field = (name, text, more = {}) => el("label", { class: more.wide ? "wide" : null }, text, el("input", { name, autocomplete: "off", ...more, wide: null }));
  const form = el("form", { class: "grid", "aria-label": "A purchase" },
    field("item", "Bought", { list: "items", required: true, wide: true }), field("pack", "Pack, such as 500 g", { required: true }), field("price", "Price", { required: true, inputmode: "decimal" }),
    field("on", "Day", { type: "date" }), field("place", "Where"), field("note", "Remark", { wide: true }),
    el("label", { class: "tick" }, el("input", { type: "checkbox", name: "offer" }), " on offer"), el("button", { type: "submit", text: "Write it in the book" }));
  form.querySelector("[name=item]").setAttribute("list", "items");
  const root = el("div", {}, el("p", { class: "soft", text: "A new price is a new purchase: what you paid before stays in the book. Choose a line to buy it again." }), form, items, list);
  let seen = "";
  const input = (name) => form.elements.namedItem(name);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const fields = Object.fromEntries(["item", "pack", "price", "on", "place", "note"].map((name) => [name, input(name).value]));
    try {
      const answer = await tell("price", { ...fields, offer: input("offer").checked, seen });
      seen = answer.seen;
      say(`Written: ${answer.added.join("; ")}`);
      for (const name of ["item", "pack", "price", "note"]) input(name).value = "";
      input("offer").checked = false;
      after();
      load();
    } catch (refusal) {
      if (refusal.status === 409) { say("The book was changed elsewhere. It is read anew: look at it, then write again.", true); load(); }
      else refused(refusal);
    }
  });
  async function load() {
    try {
      const book = await ask("prices");
      seen = book.seen;
      fill(list, table("The price book", [{ text: "Item" }, { text: "Pack", end: true }, { text: "Price", end: true }, { text: "Age", end: true }],
        book.rows.map((row) => el("tr", {}, el("th", { scope: "row" }, el("button", { type: "button", class: "plain", text: row.name, click: () => {
          input("item").value = row.item; input("pack").value = row.pack; input("place").value = row.place; input("price").value = ""; input("price").focus();
        } }), row.place || row.offer ? el("small", { text: [row.place, row.offer ? "on offer" : ""].filter(Boolean).join(", ") }) : null),
        cell(row.pack, true), el("td", { class: "end" }, el("b", { text: row.free ? "free" : row.price }), row.unit && !row.free ? el("small", { text: row.unit }) : null),
        el("td", { class: row.stale ? "end odd" : "end" }, row.age, row.change ? el("small", { text: row.change }) : null)))));
    } catch (refusal) { refused(refusal); }
  }
  return { root, load, show(state) {
    fill(items, state.channel.items.map((item) => el("option", { value: item.key, text: item.name })));
    if (!input("on").value) input("on").value = state.today;
  } };
}

/** The notes, ready to paste. */
export function notes(wish) {
  const form = el("select", {}, [["plain", "Plain text, for a description"], ["markdown", "Markdown"], ["html", "HTML"]].map(([value, text]) => el("option", { value, text })));
  const text = el("textarea", { class: "block", readOnly: true, rows: 22, "aria-label": "Notes" }), size = el("span", { class: "soft" });
  const copy = el("button", { type: "button", text: "Copy the notes", click: async () => {
    try { await navigator.clipboard.writeText(text.value); } catch { text.select(); document.execCommand("copy"); }
    say("The notes are copied: paste them where they go.");
  } });
  const root = el("div", {}, el("div", { class: "row" }, el("label", {}, "Form ", form), copy), text, size);
  async function load() {
    try {
      const answer = await ask("notes", { ...wish(), format: form.value });
      text.value = answer.text;
      size.textContent = form.value === "plain" ? `${answer.bytes.toLocaleString("en")} of 5,000 bytes` : "";
    } catch (refusal) { refused(refusal); }
  }
  form.addEventListener("change", load);
  return { root, load };
}

/** Captions held against the figures, finding by finding. */
export function said(wish) {
  const file = el("input", { type: "file", accept: ".vtt,.srt,.txt,.md,text/*", hidden: true, "aria-label": "Captions or a script" });
  const beside = el("button", { type: "button", class: "quiet", hidden: true, click: () => proof({}) });
  const drop = el("div", { class: "drop" }, el("p", { text: "Drop captions or a script here" }), el("div", { class: "row" }, el("button", { type: "button", text: "Choose a file…", click: () => file.click() }), beside), file);
  const result = el("div");
  const root = el("div", {}, drop, result);
  let at = 0, list = [], only = true, last = null;
  drop.addEventListener("dragover", (event) => { event.preventDefault(); drop.classList.add("over"); });
  drop.addEventListener("dragleave", () => drop.classList.remove("over"));
  drop.addEventListener("drop", (event) => { event.preventDefault(); event.stopPropagation(); drop.classList.remove("over"); read(event.dataTransfer.files[0]); });
  file.addEventListener("change", () => { read(file.files[0]); file.value = ""; });
  async function read(dropped) {
    if (!dropped) return;
    if (dropped.size > 3_000_000) return say("That file is too large for captions.", true);
    proof({ name: dropped.name, text: await dropped.text() });
  }
  async function proof(spoken) {
    try {
      last = spoken;
      show(await tell("proof", { ...wish(true), ...spoken }));
    } catch (refusal) { refused(refusal); }
  }
  const verdicts = { differs: "differs", agrees: "agrees", unplaced: "no figure answers" };
  function show(answer) {
    const { proof: { claims, sums, names, silent }, context, name } = answer;
    const tally = (verdict) => claims.filter((one) => one.verdict === verdict).length;
    const chosen = () => claims.map((claim, index) => ({ claim, around: context[index] })).filter(({ claim }) => !only || claim.verdict !== "agrees");
    const one = el("div", { class: "finding", tabIndex: -1, role: "group", "aria-label": "The finding in sight" }), place = el("span", { class: "soft" });
    const back = el("button", { type: "button", text: "Previous", click: () => walk(-1) }), next = el("button", { type: "button", text: "Next", click: () => walk(1) });
    const lines = el("ol", { class: "claims" });
    const filter = el("input", { type: "checkbox", checked: only, change: () => { only = filter.checked; at = 0; deal(); } });
    const time = (claim) => claim.start?.slice(0, -4).replace(/^00:/, "") ?? `line ${claim.line}`;
    function walk(step) { at = (at + step + list.length) % Math.max(1, list.length); look(); one.focus(); }
    function look() {
      back.disabled = next.disabled = list.length < 2;
      place.textContent = list.length ? `${at + 1} of ${list.length}` : "";
      lines.querySelectorAll("button").forEach((button, index) => button.setAttribute("aria-current", index === at ? "true" : "false"));
      const here = list[at];
      if (!here) return fill(one, el("p", { text: claims.length ? "Every number said agrees with its figure." : "No number of this dish is said." }));
      const { claim, around } = here;
      fill(one, el("p", { class: claim.verdict }, el("b", { text: time(claim) }), ` ${verdicts[claim.verdict]}${claim.misheard ? ", likely misheard" : ""}`),
        el("blockquote", {}, ...quoted(around, claim.text)),
        claim.expected_shown ? el("p", {}, "It is ", el("b", { class: "right", text: claim.expected_shown }), claim.about ? el("small", { text: claim.about }) : null) : el("p", { class: "soft", text: "Nothing on the sheet answers to it." }));
    }
    /** The words around, with the claim's own marked. */
    function quoted(around, text) {
      const start = around.indexOf(text);
      return start < 0 ? [el("mark", { text }), around ? ` … ${around}` : ""] : [around.slice(0, start), el("mark", { text }), around.slice(start + text.length)];
    }
    function deal() {
      list = chosen();
      at = Math.min(at, Math.max(0, list.length - 1));
      fill(lines, list.map(({ claim }, index) => el("li", {}, el("button", { type: "button", class: `plain ${claim.verdict}`, click: () => { at = index; look(); } }, el("b", { text: time(claim) }), ` ${claim.text}`))));
      look();
    }
    const wrong = sums.filter((sum) => !sum.holds);
    fill(result,
      el("h3", { text: name }),
      answer.another_dish ? el("p", { class: "odd", text: "Hardly a number in it has a figure here: is it of another dish?" }) : null,
      el("p", { class: "tally" }, el("b", { class: tally("differs") ? "differs" : "agrees", text: `${tally("differs")} differ` }), `, ${tally("agrees")} agree, ${tally("unplaced")} without a figure`),
      el("div", { class: "row" }, back, next, place, el("label", { class: "tick" }, filter, " leave out what agrees")), one, lines,
      wrong.length ? el("section", {}, el("h3", { text: "Sums that don’t come out" }), el("ul", {}, wrong.map((sum) => el("li", { text: sum.text })))) : null,
      names.length ? el("section", {}, el("h3", { text: "Names the captions mangled" }), el("ul", {}, names.map((slip) => el("li", {}, el("s", { text: slip.said }), " → ", el("b", { text: slip.written }))))) : null,
      silent.length ? el("details", {}, el("summary", { text: `${count(silent.length, "amount is", "amounts are")} never said` }), el("p", { text: silent.join(", ") })) : null,
      answer.worries.length ? el("ul", { class: "found" }, answer.worries.map((worry) => el("li", { class: worry.severity, text: sentence(worry.message) }))) : null);
    at = 0;
    deal();
  }
  return { root, show(view) {
    beside.hidden = !view.captions;
    beside.textContent = `Read ${view.captions} beside the dish`;
    if (last) proof(last);
  }, forget() { last = null; fill(result); } };
}

/** A take kept, and everything published. */
export function take(wish, after) {
  const day = el("input", { type: "date" }), takes = el("ul", { class: "log" });
  const keep = el("button", { type: "button", text: "Keep this take", click: async () => {
    try {
      const { kept } = await tell("slate", { ...wish(true), day: day.value });
      say(`Kept ${kept}.`);
      after();
    } catch (refusal) { refused(refusal); }
  } });
  const bar = el("progress", { hidden: true, max: 1, value: 0, "aria-label": "How far publishing is" }), how = el("p", { class: "soft" }), lines = el("ul", { class: "log" });
  const open = el("button", { type: "button", class: "quiet", text: "Look at it", hidden: true, click: () => tell("show", {}).catch(refused) });
  const go = el("button", { type: "button", text: "Publish everything", click: async () => {
    go.disabled = true;
    bar.hidden = false;
    bar.removeAttribute("value");
    fill(lines);
    try {
      const answer = await tell("publish", {});
      fill(lines, answer.lines.map((text) => el("li", { text: words(text) })));
      how.textContent = `It is in ${answer.index}`;
      open.hidden = false;
      say("Published.");
    } catch (refusal) { how.textContent = ""; refused(refusal); }
    go.disabled = false;
    bar.hidden = true;
  } });
  const where = el("p", { class: "soft" });
  return {
    root: el("div", {}, el("section", {}, el("h3", { text: "The take" }), el("p", { text: "Keeps the figures as they are said today, at this batch and version. Later, tallyspoon drift tells what is no longer so of the video." }),
      el("div", { class: "row" }, el("label", {}, "Day ", day), keep), takes),
      el("section", {}, el("h3", { text: "Publish" }), where, el("div", { class: "row" }, go, open), bar, how, lines)),
    show(view, state) {
      if (!day.value) day.value = state.today;
      where.textContent = `Cards, notes and pages of every dish go to ${state.out}. Only what changed is written.`;
      fill(takes, view.takes.map((one) => el("li", { text: one.asked ? `${one.name}, ${one.asked.replaceAll("--", "")}` : one.name })));
    },
    progress({ recipe, done, of, files }) {
      bar.max = of;
      bar.value = done;
      if (recipe) how.textContent = `${recipe}, ${count(files, "file", "files")} so far`;
    },
  };
}

/** Everything that is wrong or deserves a look, with its place. */
export function mend(go) {
  const root = el("div");
  return { root, show({ problems, looked }) {
    const one = (problem) => el("li", { class: problem.severity }, problem.place
      ? el("button", { type: "button", class: "plain", click: () => go(problem.place) }, el("b", { text: `${problem.place.path}, line ${problem.place.line}` }), ` ${sentence(problem.message)}`)
      : sentence(problem.message), problem.hint ? el("p", { class: "soft", text: sentence(problem.hint) }) : null);
    fill(root, problems.length ? el("ul", { class: "found" }, problems.map(one)) : el("p", { text: looked ? "Nothing is wrong, and nothing wants a look." : "Nothing is wrong. The cards are still being looked through…" }));
  } };
}
