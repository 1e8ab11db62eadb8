// Uses the published pages as people do, in a real browser: fills in the sentence, shares the address, walks the steps,
// lets timers ring, prints. Every state is held to axe-core, to its width and to silence on the console.
// Arguments: the folder of the published demo, the channel's folder. Needs TALLYSPOON.
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { existsSync, readFileSync, readdirSync, statSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { launch, violations, watched } from "./browser.mjs";

const require = createRequire(process.env.NODE_PATH + "/");
const { default: Validator } = await import(pathToFileURL(require.resolve("@adobe/structured-data-validator")).href);
const [published, content] = process.argv.slice(2);
const recipes = readdirSync(published).filter((name) => existsSync(`${published}/${name}/index.html`) && statSync(`${published}/${name}`).isDirectory());
const address = (recipe, rest = "") => pathToFileURL(`${published}/${recipe}/index.html`).href + rest;
const wrong = [];
let held = 0;
// What was found is told, however it ends.
process.on("exit", () => wrong.slice(0, 60).forEach((line) => console.error(line)));

/** Holds that something is so. */
function must(so, what) {
  held += 1;
  if (!so) wrong.push(what);
}

function figures(recipe, ...options) {
  return JSON.parse(execFileSync(process.env.TALLYSPOON, ["--content", content, "figures", recipe, ...options, "--json"], { maxBuffer: 1 << 26 }));
}

const browser = await launch();
const own = (url) => url.startsWith("file:") || url.startsWith("data:") || url.startsWith("blob:");

/** A page opened and, when `use` is through, asked for its faults. */
async function visit(what, url, options, use) {
  const { page, context, faults } = await watched(browser, own, options);
  const asked = [];
  page.on("request", (request) => request.url().startsWith("data:") || asked.push(request.url()));
  await context.addInitScript(() => {
    globalThis.tones = 0;
    const start = OscillatorNode.prototype.start;
    OscillatorNode.prototype.start = function (...when) {
      globalThis.tones += 1;
      return start.apply(this, when);
    };
    globalThis.awake = 0;
    const wakeLock = { request: async () => ({ release: async () => { globalThis.awake -= 1; } }) };
    const counted = { request: async (kind) => { globalThis.awake += 1; return wakeLock.request(kind); } };
    Object.defineProperty(navigator, "wakeLock", { value: counted, configurable: true });
    globalThis.shifted = 0;
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) if (!entry.hadRecentInput) globalThis.shifted += entry.value;
    }).observe({ type: "layout-shift", buffered: true });
  });
  await page.goto(url);
  await use(page, context, asked);
  must(faults.length === 0, `${what}: ${faults.join("; ")}`);
  await context.close();
}

/** axe-core, and nothing wider than the window. */
async function sound(page, what) {
  for (const violation of await violations(page)) must(false, `${what}: ${violation}`);
  const [inner, outer] = await page.evaluate(() => {
    const scroller = document.querySelector("dialog[open]") ?? document.scrollingElement;
    return [scroller.scrollWidth, scroller.clientWidth];
  });
  must(inner <= outer, `${what}: ${inner} px in a window of ${outer} px`);
}

const outcome = (page) => page.locator("#outcome").textContent();
const amount = (page, line) => page.locator(`[data-line="${line}"] [data-f=amount]`).textContent();
/** What `read` gives as soon as it is `right`; what it gives at last where it never is. A page may take its time. */
async function becomes(page, read, right) {
  let got = await read();
  for (let waited = 0; !right(got) && waited < 5000; waited += 50) {
    await page.waitForTimeout(50);
    got = await read();
  }
  return got;
}

/** What a page shows of a yield is what the program says of it. */
async function shows(page, document, what) {
  const differing = async () => {
    const odd = [];
    const same = (name, shown, right) => shown === right || odd.push(`${what}: ${name} is ${shown}, not ${right}`);
    for (const line of document.lines) same(line.id, await amount(page, line.id), line.shown);
    same("the total", await page.locator(".facts [data-f='cost.total']").textContent(), document.cost.total_shown);
    for (const step of document.steps) {
      same(`step ${step.id}`, (await page.locator(`[data-step="${step.id}"] [data-paragraph]`).allTextContents()).join("\n\n"), step.text);
    }
    return odd;
  };
  const odd = await becomes(page, differing, (odd) => odd.length === 0);
  held += document.lines.length + 1 + document.steps.length - odd.length;
  for (const line of odd) must(false, line);
}

// With and without the script, the written yield reads the same; one request, and no more than 150 kB.
for (const recipe of recipes) {
  const read = (page) => page.locator("main").evaluate((main) => {
    const copy = main.cloneNode(true);
    for (const extra of copy.querySelectorAll(".make, .tools, [hidden]")) extra.remove();
    return copy.textContent.replace(/\s+/g, "");
  });
  let bare = "";
  await visit(`${recipe} without script`, address(recipe), { javaScriptEnabled: false }, async (page, _, asked) => {
    must(await page.locator("input:visible, select:visible, button:visible").count() === 0, `${recipe}: what does nothing without its script is shown`);
    must(asked.length === 1, `${recipe}: ${asked.length} requests`);
    // Without script nothing can be asked of the page but its source.
    bare = (await page.content());
  });
  await visit(recipe, address(recipe), {}, async (page, _, asked) => {
    const live = await read(page);
    const still = await page.evaluate((source) => {
      const main = new DOMParser().parseFromString(source, "text/html").querySelector("main");
      for (const extra of main.querySelectorAll(".make, .tools, [hidden]")) extra.remove();
      return main.textContent.replace(/\s+/g, "");
    }, bare);
    const at = [...live].findIndex((letter, index) => letter !== still[index]);
    must(live === still, `${recipe}: as written, its script says …${live.slice(Math.max(at - 40, 0), at + 60)}… for …${still.slice(Math.max(at - 40, 0), at + 60)}…`);
    must(asked.length === 1, `${recipe}: ${asked.length} requests`);
    must(await page.evaluate(() => globalThis.shifted) < 0.01, `${recipe}: its layout shifts`);
  });
  const bytes = statSync(`${published}/${recipe}/index.html`).size;
  must(bytes < 150000, `${recipe}: ${bytes} bytes`);
}

// The sentence: each blank, the address, a reload, what can't be had.
await visit("the sentence", address("sweetcorn-puffs"), {}, async (page) => {
  const field = (name) => page.locator(`#yield [name=${name}]`);
  await field("makes").fill("47");
  await shows(page, figures("sweetcorn-puffs", "--makes", "47"), "47 puffs");
  must(new URL(page.url()).hash === "#makes=47", `the address is ${page.url()}`);
  await page.reload();
  await shows(page, figures("sweetcorn-puffs", "--makes", "47"), "47 puffs after a reload");
  must(await field("makes").inputValue() === "47", "the blank forgets what was asked");
  await field("batch").fill("1 lb 3 oz");
  await shows(page, figures("sweetcorn-puffs", "--batch", "1 lb 3 oz"), "from 1 lb 3 oz");
  await field("times").fill("2/3");
  await shows(page, figures("sweetcorn-puffs", "--times", "2/3"), "two thirds");
  const have = (at) => page.locator("#haves .have").nth(at);
  await have(0).locator("select").selectOption("chickpea-flour");
  await have(0).locator("input").fill("330 g");
  await shows(page, figures("sweetcorn-puffs", "--have", "chickpea-flour=330 g"), "330 g of flour");
  await have(1).locator("select").selectOption("lime");
  await have(1).locator("input").fill("2");
  await shows(page, figures("sweetcorn-puffs", "--have", "chickpea-flour=330 g", "--have", "lime=2"), "and two limes");
  await field("variant").selectOption("tinned");
  await shows(page, figures("sweetcorn-puffs", "--have", "chickpea-flour=330 g", "--have", "lime=2", "--variant", "tinned"), "of tinned corn");
  await page.reload();
  await shows(page, figures("sweetcorn-puffs", "--have", "chickpea-flour=330 g", "--have", "lime=2", "--variant", "tinned"), "all that after a reload");
  const before = await amount(page, "main.sweetcorn");
  for (const [name, text] of [["batch", "12 spans"], ["batch", "1,5 g"], ["makes", "0"], ["makes", "4.5"], ["times", "1/0"], ["makes", "99999999"], ["batch", "5000000 kg"], ["batch", "2 L"]]) {
    await field(name).fill(text);
    // Another answer stands there already: the box that is marked is what this one has changed.
    const marked = () => field(name).getAttribute("aria-invalid");
    must(await becomes(page, marked, (mark) => mark === "true") === "true", `${name} ${text} is not marked`);
    const told = await becomes(page, () => outcome(page), (told) => told.includes("still shows"));
    must(told.includes("still shows"), `${name} ${text} is answered: ${told}`);
    must(await amount(page, "main.sweetcorn") === before, `${name} ${text} changes what is shown`);
  }
  await page.locator("#as-written").click();
  await shows(page, figures("sweetcorn-puffs"), "as written again");
  must(new URL(page.url()).hash === "", `the address is ${page.url()} as written`);
  await page.evaluate(() => { location.hash = "#batch=700 g&variant=tinned"; });
  await page.waitForFunction(() => document.querySelector("[data-line='main.salt'] [data-f=amount]").textContent !== "6.6 g");
  await shows(page, figures("sweetcorn-puffs", "--batch", "700 g", "--variant", "tinned"), "an address that is pasted");
});
for (const [fragment, text] of [["#makes=0", "whole number"], ["#variant=fancy", "no version"], ["#makes=4&times=2", "several"], ["#have=saffron%3D3 g", "not weighed"], ["#times=9000000", "million"]]) {
  await visit(fragment, address("sweetcorn-puffs", fragment), {}, async (page) => {
    const told = await becomes(page, () => outcome(page), (told) => told.includes(text));
    must(told.includes(text), `${fragment} is answered: ${told}`);
    must(await amount(page, "main.salt") === "6.6 g", `${fragment} changes what is shown`);
  });
}

// Steps one at a time: keys, swipes, ticks that stay, the screen kept awake.
await visit("the steps", address("sweetcorn-puffs", "#makes=40"), { hasTouch: true, viewport: { width: 360, height: 740 } }, async (page) => {
  const title = () => page.locator("#walk-title").textContent();
  const walk = page.locator("#walk");
  const program = figures("sweetcorn-puffs", "--makes", "40");
  const at = async (step, what) => must(await title() === program.steps[step].title, `${what}: ${await title()}`);
  await page.locator("[data-walk]").click();
  await at(0, "the first step");
  must(await page.evaluate(() => globalThis.awake) === 1, "the screen may go dark");
  const uses = await walk.locator(".uses li").allTextContents();
  const told = program.steps[0].amounts.map((use) => `${use.name} ${use.shown}`);
  must(JSON.stringify(uses) === JSON.stringify(told), `the step takes ${uses}, not ${told}`);
  await walk.locator(".uses input").first().check();
  await page.locator("#walk-title").focus();
  await page.keyboard.press("ArrowRight");
  await at(1, "arrow to the right");
  await page.keyboard.press("ArrowLeft");
  await at(0, "arrow to the left");
  await page.keyboard.press("Space");
  await at(1, "space");
  const swipe = (from, to) => page.evaluate(([from, to]) => {
    const dialog = document.getElementById("walk");
    const touch = (x) => new Touch({ identifier: 1, target: dialog, clientX: x, clientY: 300 });
    dialog.dispatchEvent(new TouchEvent("touchstart", { changedTouches: [touch(from)], bubbles: true }));
    dialog.dispatchEvent(new TouchEvent("touchend", { changedTouches: [touch(to)], bubbles: true }));
  }, [from, to]);
  await swipe(300, 100);
  await at(2, "a swipe to the left");
  await swipe(100, 300);
  await at(1, "a swipe to the right");
  await page.reload();
  await page.locator("[data-walk]").click();
  must(await walk.locator(".uses input").first().isChecked() && await page.locator("#step-done").isChecked(), "ticks are lost with a reload");
  await page.locator("[data-go=clear]").click();
  must(!await page.locator("#step-done").isChecked() && !await walk.locator(".uses input").first().isChecked(), "ticks can't be taken off");
  await page.keyboard.press("Escape");
  must(!await walk.isVisible(), "no way out by the keyboard");
  // A browser tells a dialog of its closing a little later.
  const awake = () => page.evaluate(() => globalThis.awake);
  must(await becomes(page, awake, (count) => count === 0) === 0, "the screen stays on for good");
});

// Timers: two at once, over steps and a reload, a look at the lower end and the bell at the upper one.
await visit("the timers", address("sweetcorn-puffs"), {}, async (page) => {
  await page.clock.install();
  await page.reload();
  const strip = page.locator("#timers");
  const line = (name) => strip.locator("li", { hasText: name });
  await page.locator("[data-step=make-the-batter] .chips button").click();
  await page.locator("[data-walk]").click();
  await page.keyboard.press("End");
  await page.keyboard.press("ArrowLeft");
  await page.locator(".times button").first().click();
  must(await strip.locator("li").count() === 2, "two timers are not two lines");
  must((await line("Make the batter").textContent()).includes("10:00"), `the batter's timer says ${await line("Make the batter").textContent()}`);
  await page.keyboard.press("ArrowLeft");
  await page.clock.runFor(62500);
  must(/1:5[89]/.test(await line("Fry").textContent()), `after a minute the frying timer says ${await line("Fry").textContent()}`);
  must(await page.evaluate(() => globalThis.tones) === 0, "a timer rings before its time");
  await page.clock.runFor(120000);
  must((await line("Fry").locator(".call").textContent()).length > 0, "three minutes pass without a word");
  must(await page.evaluate(() => globalThis.tones) > 0, "a timer is silent");
  must((await page.title()).includes("Fry"), `the title says ${await page.title()}`);
  await line("Fry").locator("button").click();
  must(await line("Fry").count() === 1, "a look ends the timer");
  await page.reload();
  must(await strip.locator("li").count() === 2, "timers are lost with a reload");
  await page.clock.runFor(61000);
  must((await line("Fry").locator(".call").textContent()).length > 0, "four minutes pass without a word");
  await line("Fry").locator("button").click();
  must(await strip.locator("li").count() === 1, "a timer can't be stopped");
  await page.clock.runFor(600000);
  must((await page.title()).includes("Make the batter"), `the title says ${await page.title()}`);
});

// axe-core and widths: every page and state, light and dark.
const widths = [320, 360, 768, 1440];
for (const scheme of ["light", "dark"]) {
  for (const width of widths) {
    const options = { colorScheme: scheme, viewport: { width, height: 800 }, reducedMotion: "reduce" };
    const what = (state) => `${state}, ${scheme}, ${width} px`;
    await visit(what("index"), pathToFileURL(`${published}/index.html`).href, options, async (page) => sound(page, what("index")));
    for (const recipe of recipes) {
      await visit(what(recipe), address(recipe, "#times=7"), options, async (page) => {
        await sound(page, what(recipe));
        must(await page.evaluate(() => globalThis.shifted) < 0.01, `${what(recipe)}: its layout shifts`);
      });
    }
    await visit(what("states"), address("sweetcorn-puffs", "#have=lime%3D3&have=salt%3D20 g"), options, async (page) => {
      await page.locator("[name=times]").fill("none");
      await becomes(page, () => outcome(page), (told) => told.includes("still shows"));
      await sound(page, what("refused"));
      await page.locator("[data-step=fry] .chips button").click();
      await page.locator("[data-step=make-the-batter] .chips button").click();
      await sound(page, what("timed"));
      await page.locator("[data-walk]").click();
      await sound(page, what("first step"));
      await page.locator("#step-done").check();
      for (const key of ["ArrowRight", "End"]) {
        await page.keyboard.press(key);
        await sound(page, what(`step by ${key}`));
      }
    });
  }
}

// One sheet of A4 a recipe, and print held to axe-core.
for (const recipe of recipes) {
  await visit(`${recipe} printed`, address(recipe), {}, async (page) => {
    const sheets = (await page.pdf({ format: "A4", preferCSSPageSize: true })).toString("latin1").match(/\/Type\s*\/Page\b/g).length;
    must(sheets === 1, `${recipe}: printed on ${sheets} sheets`);
    await page.emulateMedia({ media: "print" });
    await sound(page, `${recipe} printed`);
  });
}

// Linked data: nothing that the validator calls an error, clips in order and within the video.
for (const recipe of recipes) {
  const html = readFileSync(`${published}/${recipe}/index.html`, "utf8");
  const data = JSON.parse(/<script type="application\/ld\+json">(.*?)<\/script>/s.exec(html)[1]);
  const validate = async (linked) => (await new Validator().validate({ jsonld: { Recipe: [linked] }, microdata: {}, rdfa: {} }))
    .filter(({ severity }) => severity === "ERROR");
  for (const { issueMessage, path } of await validate(data)) must(false, `${recipe}: ${issueMessage} at ${JSON.stringify(path)}`);
  const broken = await validate({ ...data, name: undefined });
  must(broken.length > 0, `${recipe}: the validator lets a recipe without a name pass`);
  const clips = data.video?.hasPart ?? [];
  const inOrder = clips.every((clip, at) => clip.startOffset < clip.endOffset && (at === 0 || clips[at - 1].endOffset === clip.startOffset));
  must(inOrder, `${recipe}: clips overlap`);
}
must(recipes.some((recipe) => readFileSync(`${published}/${recipe}/index.html`, "utf8").includes("\"@type\":\"Clip\"")), "no page has clips");

// The feed by RFC 4287, sections 4.1.1 and 4.1.2; the site map by sitemaps.org.
await visit("feed and site map", address(recipes[0]), {}, async (page) => {
  const read = (name) => page.evaluate((source) => {
    const document = new DOMParser().parseFromString(source, "application/xml");
    const texts = (parent, tag) => [...parent.children].filter((child) => child.localName === tag).map((child) => child.textContent || child.getAttribute("href"));
    const root = document.documentElement;
    const entries = [...root.children].filter((child) => child.localName === "entry");
    const required = (element) => Object.fromEntries(["id", "title", "updated", "link", "author"].map((tag) => [tag, texts(element, tag)]));
    return {
      fault: document.querySelector("parsererror")?.textContent, name: root.localName, space: root.namespaceURI,
      head: required(root), entries: entries.map(required), places: [...document.querySelectorAll("loc")].map((place) => place.textContent),
    };
  }, readFileSync(`${published}/${name}`, "utf8"));
  const feed = await read("feed.xml");
  must(!feed.fault && feed.space === "http://www.w3.org/2005/Atom" && feed.name === "feed", `the feed is no Atom: ${feed.fault}`);
  for (const part of [feed.head, ...feed.entries]) {
    must(part.id.length === 1 && part.title.length === 1 && part.updated.length === 1 && part.link.length >= 1, `a feed's part lacks something: ${JSON.stringify(part)}`);
    // RFC 3339, and no more than one of each address.
    must(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/.test(part.updated[0]), `${part.updated[0]} is no moment`);
  }
  must(feed.head.author.length === 1, "nobody wrote the feed");
  must(new Set(feed.entries.map(({ id }) => id[0])).size === feed.entries.length && feed.entries.length > 0, "entries share an id");
  const dates = feed.entries.map(({ updated }) => updated[0]);
  must(dates.every((date, at) => at === 0 || date <= dates[at - 1]) && feed.head.updated[0] === dates[0], `the feed is out of order: ${dates}`);
  const map = await read("sitemap.xml");
  must(!map.fault && map.space === "http://www.sitemaps.org/schemas/sitemap/0.9", `the site map is none: ${map.fault}`);
  must(map.places.length === recipes.length + 1 && map.places.every((place) => place.startsWith("https://")), `the site map has ${map.places}`);
});

await browser.close();
console.log(`${held} things held, ${wrong.length} not so`);
if (wrong.length > 0) process.exit(1);
