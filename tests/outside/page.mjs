// Holds what a page reckons in a real browser against what the program says of the same yield: every shown text, over
// random yields of every kind. Arguments: a channel's folder, the folder it was published to, how many yields a recipe,
// and the channel again as the program is to read it for the planted fault. Needs TALLYSPOON.
import { execFile } from "node:child_process";
import { readdirSync, existsSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { launch, watched } from "./browser.mjs";

/** A small generator, so that every run tries the same yields (mulberry32). */
function dice(seed) {
  return () => {
    seed = (seed + 0x6d2b79f5) | 0;
    let t = Math.imul(seed ^ (seed >>> 15), 1 | seed);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** A random yield as options of the program and as an address of the page. */
function asking(roll, pattern) {
  const pick = (list) => list[Math.floor(roll() * list.length)];
  const between = (low, high) => Math.floor(Math.exp(Math.log(low) + roll() * Math.log(high / low)));
  const amount = () => pick([
    () => `${between(1, 9000)} g`, () => `${(roll() * 30).toFixed(1 + Math.floor(roll() * 3))} g`, () => `${(roll() * 9 + 0.01).toFixed(2)} kg`,
    () => `${between(1, 40)} oz`, () => `${between(1, 9)} lb ${between(1, 15)} oz`, () => `${between(1, 900)} mg`, () => "7/8 lb", () => "1½ kg",
    () => `${between(1, 60)} ${between(1, 9)}/16 oz`,
  ])();
  const items = [...new Set(pattern.variants.flatMap((variant) => variant.parts.flatMap((part) => part.lines.map((line) => line.item))))]
    .filter((item) => item !== null);
  const have = () => {
    const item = pick([...items, pattern.parts[pattern.main].keys[0]]);
    const text = pick([amount, amount, () => `${between(1, 12)}`, () => `${between(1, 6)} 1/2 cups`, () => `${between(5, 3000)} mL`, () => "2 fl oz"])();
    return `${item}=${text}`;
  };
  const [kind, texts] = pick([
    () => ["makes", [String(pick([between(1, 40), between(1, 40), between(1, 5000), between(1000, 90000000)]))]],
    () => ["makes", [String(between(1, 200))]],
    () => ["batch", [amount()]],
    () => ["have", [have()]],
    () => ["have", Array.from({ length: between(2, 4) }, have)],
    () => ["times", [pick([() => `${between(1, 30)}/${between(1, 30)}`, () => (roll() * 5).toFixed(3), () => String(between(1, 2000000)),
      () => (roll() * 0.01).toFixed(6), () => `${between(1, 9)} 1/3`])()]],
  ])();
  const variant = pick([null, ...pattern.variants.map(({ id }) => id)]);
  const address = new URLSearchParams(texts.map((text) => [kind, text]));
  const options = texts.flatMap((text) => [`--${kind}`, text]);
  if (variant !== null) {
    address.set("variant", variant);
    options.push("--variant", variant);
  }
  return { options, address: address.toString() };
}

/** What the program says, as the texts by their names; nothing where it refuses. */
function figures(content, recipe, options) {
  return new Promise((done, failed) => {
    const args = ["--content", content, "figures", recipe, ...options, "--json"];
    execFile(process.env.TALLYSPOON, args, { maxBuffer: 1 << 26 }, (error, out, told) => {
      if (!error) done(said(JSON.parse(out)));
      else if (error.code === 1 || error.code === 2) done(null);
      else failed(new Error(`${args.join(" ")}: ${told}`));
    });
  });
}

/** The shown texts of `figures/1` by name. */
function said(document) {
  const { cost, yield: made } = document;
  const texts = {
    pieces: made.pieces_shown, basis: made.basis_shown, total: made.total_shown, finished: made.finished_shown, each: made.each_shown,
    nominal: document.hydration.nominal_shown, effective: document.hydration.effective_shown,
    prefermented: document.overall.prefermented_shown, cost: cost.total_shown, costEach: cost.each_shown, basket: cost.basket_shown,
    left: cost.left_shown, withEnergy: cost.with_energy_shown, withEnergyEach: cost.with_energy_each_shown, complete: String(cost.complete),
    kwh: cost.energy?.kwh_shown, energy: cost.energy?.shown, same: cost.compare?.shown, sameEach: cost.compare?.each_shown,
    gap: cost.compare?.gap_shown, cheaper: cost.compare ? String(cost.compare.cheaper) : null, missing: cost.missing.join(" "),
    takenUp: document.fry?.taken_up_shown, used: document.fry?.used_shown,
    cautions: document.cautions.map(({ id }) => id).join(" "),
  };
  for (const part of document.parts) {
    texts[`part ${part.id}`] = [part.basis_shown, part.total_shown, part.total_percent_shown].join(" | ");
  }
  for (const line of document.lines) {
    texts[line.id] = [line.name, line.percent_shown, line.shown, line.weight_shown, line.household].join(" | ");
  }
  for (const line of document.overall.lines) texts[`overall ${line.item}`] = [line.shown, line.percent_shown].join(" | ");
  for (const line of cost.lines) {
    texts[`cost ${line.id}`] = [line.shown, line.amount_shown, line.share_shown, line.offer, line.free].join(" | ");
  }
  for (const pack of cost.packs) texts[`pack ${pack.item}`] = [pack.packs_shown, pack.shown, pack.left_shown].join(" | ");
  document.ladder.forEach((rung, at) => {
    texts[`rung ${at}`] = [rung.basis_shown, rung.pieces_shown, ...rung.amounts].join(" | ");
  });
  for (const step of document.steps) {
    texts[`step ${step.id}`] = [step.title, step.card, step.text, ...step.amounts.map((use) => `${use.id}=${use.shown} ${use.name}`),
      ...step.measures.map(({ shown }) => shown)].join(" | ");
  }
  for (const variant of document.variants) {
    texts[`variant ${variant.id}`] = [variant.total_shown, variant.each_shown, variant.complete,
      ...variant.changes.map((c) => [c.id, c.name, c.shown, c.percent_shown, c.was_name, c.was_shown, c.was_percent_shown].join(" "))].join(" | ");
  }
  return texts;
}

/** The same of the page's own sheets; runs in the page. */
function reckoned(addresses) {
  const text = (phrase) => phrase.map((piece) => (typeof piece === "string" ? piece : piece.figure)).join("");
  return addresses.map((address) => {
    const sheet = globalThis.tallyspoon(address);
    if (sheet.refused) return null;
    const { cost, yields } = sheet;
    const texts = {
      pieces: yields.pieces, basis: yields.basis, total: yields.total, finished: yields.finished, each: yields.each,
      nominal: sheet.hydration.nominal, effective: sheet.hydration.effective, prefermented: sheet.prefermented,
      cost: cost.total, costEach: cost.each, basket: cost.basket, left: cost.left, withEnergy: cost.withEnergy,
      withEnergyEach: cost.withEnergyEach, complete: String(cost.complete), kwh: cost.energy?.kwh, energy: cost.energy?.cost,
      same: cost.compare?.same, sameEach: cost.compare?.each, gap: cost.compare?.gap,
      cheaper: cost.compare ? String(cost.compare.cheaper) : null, missing: cost.missing.map(({ id }) => id).join(" "),
      takenUp: sheet.fry?.takenUp, used: sheet.fry?.used, cautions: sheet.cautions.map(({ id }) => id).join(" "),
    };
    for (const part of sheet.formula) {
      texts[`part ${part.id}`] = [part.basis, part.total.text, part.percent].join(" | ");
      for (const line of part.lines) texts[line.id] = [line.name, line.percent, line.amount, line.weight, line.household].join(" | ");
    }
    for (const line of sheet.overall) texts[`overall ${line.item}`] = [line.amount, line.percent].join(" | ");
    for (const line of cost.lines) texts[`cost ${line.id}`] = [line.cost, line.amount, line.share, line.offer, line.free].join(" | ");
    for (const pack of cost.packs) texts[`pack ${pack.item}`] = [pack.packs, pack.cost, pack.left].join(" | ");
    sheet.ladder.forEach((rung, at) => {
      texts[`rung ${at}`] = [rung.basis, rung.pieces, ...rung.amounts.flat()].join(" | ");
    });
    for (const step of sheet.steps) {
      texts[`step ${step.id}`] = [text(step.title), text(step.card), step.text.map(text).join("\n\n"),
        ...step.uses.map((use) => `${use.id}=${use.amount} ${use.name}`), ...step.measures.map(({ shown }) => shown)].join(" | ");
    }
    for (const variant of sheet.changes) {
      texts[`variant ${variant.id}`] = [variant.total, variant.each, variant.complete,
        ...variant.changes.map(({ from, to }) => [to.id, to.name, to.amount, to.percent, from.name, from.amount, from.percent].join(" "))].join(" | ");
    }
    return texts;
  });
}

/** Where two sets of texts differ, a line each. */
function differences(program, page) {
  if (!program || !page) return program === page ? [] : [`the program ${program ? "answers" : "refuses"}, the page ${page ? "answers" : "refuses"}`];
  const names = [...new Set([...Object.keys(program), ...Object.keys(page)])];
  return names.filter((name) => (program[name] ?? null) !== (page[name] ?? null))
    .map((name) => `${name}: program ${JSON.stringify(program[name])}, page ${JSON.stringify(page[name])}`);
}

/** Runs a list of jobs, so many at a time. */
async function together(jobs, width) {
  const results = new Array(jobs.length);
  let next = 0;
  const worker = async () => {
    while (next < jobs.length) {
      const at = next++;
      results[at] = await jobs[at]();
    }
  };
  await Promise.all(Array.from({ length: width }, worker));
  return results;
}

const [content, published, count] = process.argv.slice(2);
const browser = await launch();
let [compared, refused, wrong] = [0, 0, []];
for (const recipe of readdirSync(published).filter((name) => existsSync(`${published}/${name}/index.html`))) {
  const address = pathToFileURL(`${published}/${recipe}/index.html`).href;
  const { page, context, faults } = await watched(browser, (url) => url.startsWith("file:") || url.startsWith("data:"));
  await page.goto(address);
  const pattern = await page.evaluate(() => {
    const { pattern } = JSON.parse(document.getElementById("pattern").textContent);
    return pattern;
  });
  const roll = dice(recipe.length * 7919 + Number(count));
  const asked = [{ options: [], address: "" }, ...Array.from({ length: Number(count) }, () => asking(roll, pattern))];
  const [program, reckonings] = await Promise.all([
    together(asked.map(({ options }) => () => figures(content, recipe, options)), 3),
    page.evaluate(reckoned, asked.map(({ address }) => address)),
  ]);
  asked.forEach(({ options, address: fragment }, at) => {
    compared += 1;
    if (!program[at]) refused += 1;
    for (const difference of differences(program[at], reckonings[at])) wrong.push(`${recipe} ${options.join(" ")} [${fragment}]: ${difference}`);
  });
  // A check that can't fail is none: one text changed by one sign must be told.
  const planted = { ...program[0], cost: `${program[0].cost}0` };
  if (differences(planted, reckonings[0]).length !== 1) wrong.push(`${recipe}: a planted fault is not told`);
  wrong.push(...faults.map((fault) => `${recipe}: ${fault}`));
  await context.close();
}
await browser.close();
for (const line of wrong.slice(0, 40)) console.error(line);
console.log(`${compared} yields, ${refused} of them refused by both, ${wrong.length} differences`);
if (wrong.length > 0 || compared === refused || refused === 0) process.exit(1);
