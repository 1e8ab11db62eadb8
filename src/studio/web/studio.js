// The page put together: what is looked at, what is asked of it, and news from the studio.
import { Refusal, ask, count, el, fill, find, known, later, say, sentence, tell } from "./kit.js";
import { stage as makeStage } from "./stage.js";
import { editor } from "./words.js";
import { amounts, costs, mend, notes, prices, said, take } from "./drawers.js";
import { beginning } from "./first.js";

let state = null, view = null, recipe = "", drawer = "amounts";
const how = find("how"), which = find("which"), much = find("much"), variant = find("variant"), odd = find("odd"), veil = find("veil");

/** What is asked of the dish in sight; `nested` as the studio is told, flat as it is asked. */
function wish(nested = false) {
  const text = much.value.trim();
  const asked = {};
  if (text) {
    if (how.value === "have") asked.have = [`${which.value}=${text}`];
    else if (how.value !== "written") asked[how.value] = text;
  }
  if (variant.value) asked.variant = variant.value;
  return nested ? { recipe, asked } : { recipe, ...asked };
}

const stage = makeStage(wish, () => { remember(); look(); });
const words = editor();
const panels = {
  amounts: { title: "Amounts", part: amounts() },
  text: { title: "Text", part: words },
  costs: { title: "Costs", part: costs(wish, stage.frame, (name) => stage.show(name)) },
  prices: { title: "Prices", part: prices(() => {}) },
  notes: { title: "Notes", part: notes(wish) },
  said: { title: "Said", part: said(wish) },
  take: { title: "Take", part: take(wish, () => look()) },
  mend: { title: "Mend", part: mend((place) => { open("text"); words.load(place.path).then(() => words.go(place.line, place.column)); }) },
};

for (const [id, { title, part }] of Object.entries(panels)) {
  find("tabs").append(el("button", { type: "button", role: "tab", id: `tab-${id}`, "aria-controls": `panel-${id}`, click: () => open(id) }, el("span", { text: title })));
  find("panels").append(el("div", { role: "tabpanel", id: `panel-${id}`, "aria-labelledby": `tab-${id}`, tabIndex: 0, hidden: true }, part.root));
}
find("tabs").addEventListener("keydown", (event) => {
  const ids = Object.keys(panels), at = ids.indexOf(drawer);
  const next = { ArrowRight: at + 1, ArrowDown: at + 1, ArrowLeft: at - 1, ArrowUp: at - 1, Home: 0, End: ids.length - 1 }[event.key];
  if (next === undefined) return;
  event.preventDefault();
  open(ids[(next + ids.length) % ids.length]);
  find(`tab-${drawer}`).focus();
});

function open(id) {
  drawer = id;
  for (const other of Object.keys(panels)) {
    const here = other === id;
    find(`tab-${other}`).setAttribute("aria-selected", String(here));
    find(`tab-${other}`).tabIndex = here ? 0 : -1;
    find(`panel-${other}`).hidden = !here;
  }
  remember();
  pull();
}

/** Fills the drawer that is open; the others wait until they are. */
function pull() {
  if (!state) return;
  const { part } = panels[drawer];
  if (drawer === "text") {
    words.files(state.paths, recipe);
    if (!words.path() || (!words.dirty() && words.path().includes("/") && !words.path().startsWith(`${recipe}/`))) words.load(`${recipe}/recipe.md`).then(() => words.files(state.paths, recipe));
  } else if (drawer === "mend") part.show(state);
  else if (!view) return;
  else if (drawer === "prices") { part.show(state); part.load(); }
  else if (drawer === "notes") part.load();
  else if (drawer === "take") part.show(view, state);
  else part.show(view);
}

const remember = () => history.replaceState(null, "", `#${[recipe, stage.card(), drawer].map(encodeURIComponent).join("/")}`);

/** Looks at the dish as it is asked for. */
let looking = 0;
async function look() {
  const asked = ++looking;
  try {
    const seen = await ask("view", { ...wish(), frame: stage.frame() });
    if (asked !== looking) return;
    view = seen;
    odd.textContent = "";
    find("dish").textContent = view.sheet.title;
    batch();
    stage.deal(view);
    if (drawer !== "text") pull();
  } catch (refusal) {
    if (!(refusal instanceof Refusal)) throw refusal;
    if (asked === looking) odd.textContent = sentence(refusal.message);
  }
}

/** The ways a batch can be asked for, of this dish. */
function batch() {
  const { yields } = view.sheet, before = how.value || "written";
  const ways = [["written", "as written"], ["makes", yields.piece_one ? "so many pieces" : null], ["batch", yields.basis ? `so much ${yields.basis_names.join(", ")}` : null], ["have", "what there is"], ["times", "so many times"]].filter(([, text]) => text);
  fill(how, ways.map(([value, text]) => el("option", { value, text })));
  how.value = ways.some(([value]) => value === before) ? before : "written";
  const item = which.value, lines = [...new Map(view.lines.filter((line) => line.item && line.id !== "fry.oil").map((line) => [line.item, line.name])).entries()];
  fill(which, lines.map(([value, text]) => el("option", { value, text })));
  if (lines.some(([value]) => value === item)) which.value = item;
  fill(variant, el("option", { value: "", text: "as written" }), view.variants.map((one) => el("option", { value: one.id, text: one.title })));
  variant.value = view.sheet.variant?.id ?? "";
  find("variant-label").hidden = view.variants.length === 0;
  asks();
}
function asks() {
  find("which-label").hidden = how.value !== "have";
  find("much-label").hidden = how.value === "written";
  much.placeholder = { makes: "24", batch: "500 g", have: "730 g", times: "1 1/2" }[how.value] ?? "";
}
const redraw = () => { stage.draw(state.version); look(); };
how.addEventListener("change", () => { much.value = ""; asks(); if (how.value === "written") redraw(); else much.focus(); });
which.addEventListener("change", redraw);
variant.addEventListener("change", redraw);
much.addEventListener("input", later(160, redraw));

function choose(id) {
  recipe = id;
  how.value = "written";
  much.value = "";
  variant.value = "";
  panels.said.part.forget();
  panels.costs.part.forget();
  rack();
  stage.draw(state.version);
  look().then(() => { if (drawer === "text") pull(); remember(); });
}

function rack() {
  const of = (id) => state.problems.filter((problem) => problem.place?.path.startsWith(`${id}/`));
  fill(find("dishes"), state.recipes.map((one) => {
    const errors = of(one.id).filter((problem) => problem.severity === "error").length;
    return el("li", {}, el("button", { type: "button", "aria-current": String(one.id === recipe), click: () => choose(one.id) },
      el("b", { text: one.title }), el("small", { text: [one.makes, one.priced === false ? "no price yet" : known(one.complete, one.each ? `${one.each} each` : one.total)].filter(Boolean).join(" · ") }),
      errors ? el("small", { class: "odd", text: count(errors, "error", "errors") }) : null));
  }));
}

/** Reads everything about the channel. */
let reading = 0;
async function read() {
  const asked = ++reading;
  const seen = await ask("state");
  if (asked !== reading) return;
  state = seen;
  document.body.classList.remove("waiting");
  if (!state.channel) {
    if (!state.begun) return begin();
    // Sources at fault from the start: they can be mended here.
    find("bench").hidden = false;
    find("first").hidden = true;
    if (!recipe) recipe = state.recipes[0]?.id ?? "";
  } else {
    find("channel").textContent = state.channel.name;
    document.title = `${state.channel.name}, studio`;
    find("first").hidden = true;
    find("bench").hidden = false;
    stage.frames(state.channel);
  }
  const errors = state.problems.filter((problem) => problem.severity === "error").length;
  const label = find("tab-mend").querySelector("span");
  label.textContent = state.problems.length ? `Mend ${state.problems.length}` : "Mend";
  find("tab-mend").classList.toggle("error", errors > 0);
  veil.hidden = !state.broken;
  find("easel").classList.toggle("old", state.broken);
  if (state.broken) {
    const first = state.problems.find((problem) => problem.severity === "error");
    fill(veil, el("b", { text: view ? "As it was before the error. " : "Nothing can be shown yet. " }), first ? `${first.place ? `${first.place.path}, line ${first.place.line}: ` : ""}${sentence(first.message)} ` : "", el("button", { type: "button", text: "Mend it", click: () => open("mend") }));
  }
  if (!state.recipes.some((one) => one.id === recipe)) recipe = state.recipes[0]?.id ?? "";
  rack();
  if (drawer === "mend") panels.mend.part.show(state);
  document.body.dataset.state = String(state.version);
}

function begin(another = false) {
  find("bench").hidden = true;
  const main = find("first");
  main.hidden = false;
  beginning(main, state, another, async (made) => {
    main.hidden = true;
    await read();
    choose(made);
    open("text");
  }, () => { main.hidden = true; find("bench").hidden = false; });
}
find("fresh").addEventListener("click", () => begin(true));

// News: the card first, everything else after it.
function listen() {
  const news = new EventSource("events");
  news.addEventListener("message", async ({ data }) => {
    const told = JSON.parse(data);
    if (told.news === "publish") return panels.take.part.progress(told);
    if (told.news === "hello" && state && told.version === state.version) return;
    if (told.news === "sources" && recipe && !told.broken) await stage.draw(told.version);
    await read();
    if (!recipe || !state.channel) return words.follow();
    if (told.news === "checked") return;
    await look();
    if (!state.broken && Number(document.body.dataset.drawn ?? 0) < state.version) stage.draw(state.version);
    words.follow();
  });
  news.addEventListener("error", () => {
    if (news.readyState === EventSource.CLOSED || document.body.dataset.closing) gone();
    else find("sounding").textContent = "";
    fetch("state").catch(() => { news.close(); gone(); });
  });
}
function gone() {
  find("gone").hidden = false;
  find("gone").textContent = "The studio is closed. Start it again with tallyspoon studio; you can close this page.";
  document.body.classList.add("closed");
}
find("close").addEventListener("click", async () => {
  if (words.dirty() && !window.confirm("A text is not saved. Close the studio anyway?")) return;
  document.body.dataset.closing = "yes";
  await tell("close", {}).catch(() => {});
  gone();
});

// Lamp light for the evening: as the system has it until somebody says otherwise.
const lamp = find("lamp");
function light(on) {
  document.documentElement.dataset.light = on ? "lamp" : "day";
  lamp.setAttribute("aria-pressed", String(on));
}
let chosenLight = null;
try { chosenLight = localStorage.getItem("studio.light"); } catch { /* nothing is kept */ }
light(chosenLight ? chosenLight === "lamp" : matchMedia("(prefers-color-scheme: dark)").matches);
lamp.addEventListener("click", () => {
  const on = lamp.getAttribute("aria-pressed") !== "true";
  light(on);
  try { localStorage.setItem("studio.light", on ? "lamp" : "day"); } catch { /* nothing is kept */ }
});

const [firstRecipe, firstCard, firstDrawer] = location.hash.slice(1).split("/").map(decodeURIComponent);
recipe = firstRecipe ?? "";
if (firstDrawer in panels) drawer = firstDrawer;
open(drawer);
await read();
if (state.channel && recipe) {
  if (firstCard) stage.show(firstCard, true);
  else stage.draw(state.version);
  await look();
  pull();
} else if (state.begun) open("mend");
listen();
say("");
