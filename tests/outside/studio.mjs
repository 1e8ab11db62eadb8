// The studio in a real browser, judged by what is on disk, by what the commands say, by axe-core and by the clock.
import { launch, violations, watched } from "./browser.mjs";
import { execFileSync, spawn, spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";

const program = process.env.TALLYSPOON;
const place = mkdtempSync(join(tmpdir(), "studio-"));
const shots = process.env.SHOTS;
let checks = 0;
const faults = [];
function hold(what, holds, more = "") {
  checks += 1;
  if (!holds) faults.push(`${what}${more ? `: ${more}` : ""}`);
}
const alike = (what, one, other) => hold(what, one === other, `${JSON.stringify(one)} is not ${JSON.stringify(other)}`);
const run = (...given) => spawnSync(program, given, { encoding: "utf8", maxBuffer: 1 << 26 });

/** A studio at work: its address and its process. */
async function studio(content, ...more) {
  const child = spawn(program, ["studio", "--no-open", "--content", content, "--out", join(place, "out"), ...more], { stdio: ["ignore", "ignore", "pipe"] });
  let told = "";
  child.stderr.on("data", (bytes) => { told += bytes; });
  const ended = new Promise((done) => child.on("exit", (code, signal) => done(signal ?? code)));
  for (let waited = 0; !/http:\S+/.test(told); waited += 20) {
    if (waited > 30000) throw new Error(`no address was told: ${told}`);
    await sleep(20);
  }
  return { child, ended, url: told.match(/http:\S+/)[0], said: () => told };
}

/** How a process ended, if it did so within a quarter of a minute: many times what it takes, on a busy machine too. */
const within = (ended) => Promise.race([ended, sleep(15000).then(() => "still there")]);

/** One request as it is written here, whatever a browser would send. */
function plain(url, { method = "GET", headers = {}, body = "" } = {}) {
  return new Promise((done) => {
    const asked = request(url, { method, headers, agent: false }, (answer) => {
      const parts = [];
      answer.on("data", (part) => parts.push(part));
      answer.on("end", () => done({ status: answer.statusCode, headers: answer.headers, text: Buffer.concat(parts).toString() }));
    });
    // Who sends too much may find the door shut before the answer is read.
    asked.on("error", () => done({ status: 0, headers: {}, text: "" }));
    asked.end(body);
  });
}

/** What Chromium logs of an answer that is a refusal in words, and of a small picture that was no longer waited for. */
const refusal = /status of 4(22|09) |failed request: .*card\.png.*small=1/;
/** An edit as editors save: a new file in the old one's place. */
function save(path, text) {
  writeFileSync(`${path}.saving~`, text);
  renameSync(`${path}.saving~`, path);
}

const browser = await launch();
/** A page on a studio; what it complains of at the end is a fault. */
async function visit(url, where = "", options = {}) {
  const seen = await watched(browser, (link) => link.startsWith(url) || link.startsWith(`blob:${new URL(url).origin}`), { viewport: { width: 1440, height: 900 }, ...options });
  await seen.context.grantPermissions(["clipboard-read", "clipboard-write"], { origin: new URL(url).origin });
  await seen.page.goto(url + where);
  return seen;
}
const ready = (page) => page.waitForSelector("body[data-state][data-drawn]", { timeout: 20000 });
const drawn = (page) => page.evaluate(() => Number(document.body.dataset.drawn));
const tab = (page, name) => page.getByRole("tab", { name }).click();
async function clean(page, name) {
  for (const one of await violations(page)) hold(`axe-core on ${name}`, false, one);
  checks += 1;
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  hold(`${name} fits its window`, wide <= 0, `${wide} px too wide`);
  if (shots) await page.screenshot({ path: join(shots, `${name.replaceAll(/\W+/g, "-")}.png`) });
}

const content = join(place, "content");
cpSync("content", content, { recursive: true });
const recipe = join(content, "sweetcorn-puffs", "recipe.md");
const written = readFileSync(recipe, "utf8");
const open = await studio(content);
const { url } = open;
const port = new URL(url).port;

// The door.
{
  const own = { Host: `127.0.0.1:${port}` };
  const page = await plain(url, { headers: own });
  alike("the page is there", page.status, 200);
  const policy = page.headers["content-security-policy"] ?? "";
  hold("the policy lets nothing else in", policy.startsWith("default-src 'none'") && !policy.includes("unsafe") && !policy.includes("*"), policy);
  alike("no guessing of kinds", page.headers["x-content-type-options"], "nosniff");
  alike("no referrer", page.headers["referrer-policy"], "no-referrer");
  hold("no other site reads it", !("access-control-allow-origin" in page.headers));
  hold("no script or style in the page", !/<script(?![^>]*src=)|<style|\son\w+=|style=/i.test(page.text));
  alike("a name that points here is turned away", (await plain(`${url}state`, { headers: { Host: "rebound.example" } })).status, 421);
  alike("a wrong key finds nothing", (await plain(`http://127.0.0.1:${port}/${"0".repeat(64)}/state`, { headers: own })).status, 404);
  alike("another site's page tells it nothing", (await plain(`${url}close`, { method: "POST", headers: { ...own, Origin: "https://other.example", "Content-Type": "application/json" }, body: "{}" })).status, 403);
  alike("a form tells it nothing", (await plain(`${url}close`, { method: "POST", headers: { ...own, Origin: `http://127.0.0.1:${port}`, "Content-Type": "application/x-www-form-urlencoded" }, body: "a=b" })).status, 415);
  const told = (path, body) => plain(url + path, { method: "POST", headers: { ...own, Origin: `http://127.0.0.1:${port}`, "Content-Type": "application/json" }, body });
  hold("too much is not read", [0, 413].includes((await told("check", "x".repeat(5 << 20))).status));
  for (const path of ["../../../../etc/passwd", "/etc/passwd", "sweetcorn-puffs/../channel.toml", "sweetcorn-puffs/recipe.md/", ".", ""]) {
    alike(`no source is ${path}`, (await plain(`${url}text?path=${encodeURIComponent(path)}`, { headers: own })).status, 422);
    alike(`nothing is written to ${path}`, (await told("save", JSON.stringify({ path, text: "x", seen: "" }))).status, 422);
  }
  for (const name of ["../prices.csv", "%2e%2e%2fprices.csv", "themes/x.svg"]) alike(`nothing is served as ${name}`, (await plain(`http://127.0.0.1:${port}${new URL(url).pathname}${name}`, { headers: own })).status, 404);
}

// The card, its frames and what is behind it.
const { page, faults: complaints, context } = await visit(url, "#sweetcorn-puffs/weigh-out/amounts");
await ready(page);
{
  await clean(page, "the bench by day");
  const size = await page.evaluate(() => [document.getElementById("card").naturalWidth, document.getElementById("card").naturalHeight].join("x"));
  alike("the card is drawn at its own size", size, "1920x1080");
  const share = await page.evaluate(() => document.getElementById("card").clientWidth / innerWidth);
  hold("the card is the largest thing in sight", share > 0.45, String(share));
  const cards = await page.locator("#strip button").count();
  const made = run("cards", "sweetcorn-puffs", "--content", content, "--out", join(place, "cards"), "--frame", "wide");
  alike("the commands draw", made.status, 0);
  const files = readdirSync(join(place, "cards", "sweetcorn-puffs", "wide")).filter((name) => name.endsWith(".svg"));
  alike("every card is in the strip", cards, files.length);
  for (const ground of ["black", "white", "checker"]) {
    await page.selectOption("#behind", ground);
    alike("the ground changes", await page.locator("#frame").getAttribute("data-ground"), ground);
  }
  await page.check("#lines");
  hold("the safe area shows", await page.locator("#safe").isVisible());
  await page.selectOption("#size", "tall");
  await page.waitForFunction(() => document.getElementById("card").naturalHeight === 1920);
  const inset = await page.evaluate(() => getComputedStyle(document.getElementById("safe")).inset);
  hold("the tall frame has its own safe area", inset.split(" ").length >= 3, inset);
  await clean(page, "a tall frame with its safe area");
  await page.selectOption("#size", "wide");
  await page.setInputFiles("#grab", { name: "take.png", mimeType: "image/png", buffer: readFileSync(join(place, "cards", "sweetcorn-puffs", "wide", "contact-sheet.png")) });
  hold("a picture of one's own is behind it", (await page.evaluate(() => document.getElementById("frame").style.backgroundImage)).startsWith('url("blob:'));
  await page.selectOption("#behind", "checker");
  await page.uncheck("#lines");
  await page.locator("#strip button").nth(4).focus();
  await page.keyboard.press("ArrowRight");
  await page.waitForFunction(() => document.querySelector("#strip [aria-current=true] span")?.dataset.number === "6");
  await page.evaluate(() => { location.hash = "#sweetcorn-puffs/weigh-out/amounts"; location.reload(); });
  await ready(page);
}

// From save to picture.
{
  const times = [];
  for (let round = 0; round < 14; round += 1) {
    const before = await drawn(page);
    const text = written.replace("35 %", `${36 + round} %`);
    const at = Date.now();
    save(recipe, text);
    await page.waitForFunction((before) => Number(document.body.dataset.drawn) > before, before, { polling: 5, timeout: 30000 });
    times.push((await page.evaluate(() => Number(document.body.dataset.drawnAt))) - at);
    await page.waitForTimeout(700);
  }
  times.sort((a, b) => a - b);
  const median = times[times.length >> 1];
  console.log(`from save to picture: ${median} ms in the middle, ${times[0]} at best, ${times.at(-1)} at worst, ${times.length} edits`);
  // A clock says how quick a machine is; what is held is what a studio saves beside the command that draws the dish anew.
  const command = [0, 1, 2].map(() => {
    const begin = Date.now();
    run("cards", "sweetcorn-puffs", "--content", content, "--out", join(place, "again"), "--frame", "wide");
    return Date.now() - begin;
  });
  const again = command.sort((a, b) => a - b)[1];
  console.log(`the same dish drawn by the command: ${again} ms`);
  hold("an edit is seen sooner than by the command", median < again, `${median} ms in the middle, ${again} ms by the command`);
  const before = await drawn(page);
  writeFileSync(recipe, written);
  await page.waitForFunction((before) => Number(document.body.dataset.drawn) > before, before);
}

// Batch and version.
{
  const ways = [
    ["makes", "40", [], ["--makes", "40"]], ["batch", "1 kg", [], ["--batch", "1 kg"]],
    ["have", "730 g", ["sweetcorn"], ["--have", "sweetcorn=730 g"]], ["times", "1 1/2", [], ["--times", "1 1/2"]],
  ];
  for (const [how, much, which, options] of ways) {
    await page.selectOption("#how", how);
    for (const item of which) await page.selectOption("#which", item);
    await page.fill("#much", much);
    const figures = JSON.parse(run("figures", "sweetcorn-puffs", "--content", content, "--json", ...options).stdout);
    const expected = figures.lines.map((line) => line.shown).join("|");
    const shown = () => page.evaluate(() => [...document.querySelectorAll("#panel-amounts tbody td:nth-child(2) b")].map((cell) => cell.textContent).join("|"));
    for (let waited = 0; (await shown()) !== expected && waited < 15000; waited += 50) await sleep(50);
    alike(`the amounts at ${options.join(" ")}`, await shown(), expected);
  }
  await page.fill("#much", "no number");
  await page.waitForFunction(() => document.getElementById("odd").textContent !== "");
  await page.selectOption("#how", "written");
  await page.selectOption("#variant", "tinned");
  await page.waitForFunction(() => document.querySelector("#panel-amounts tbody th")?.textContent.includes("tinned"));
  checks += 2;
  await page.selectOption("#variant", "");
}

// Problems, live; the last good card stays in sight.
{
  save(recipe, written.replace('"2.2 %"', '"2.2 blobs"'));
  await page.waitForSelector("#veil:not([hidden])");
  const line = written.slice(0, written.indexOf('"2.2 %"')).split("\n").length;
  const told = await page.locator("#veil").textContent();
  hold("the error is told with its place", told.includes(`recipe.md, line ${line}:`), told);
  await page.getByRole("button", { name: "Mend it" }).click();
  await clean(page, "an error to mend");
  await page.locator("#panel-mend button").first().click();
  await page.waitForSelector(".gutter .error");
  hold("the error is marked in place", (await page.locator(".marks mark.error").first().textContent()).includes("2.2 blobs"));
  await clean(page, "the text with an error");
  save(recipe, written);
  await page.waitForSelector("#veil", { state: "hidden" });
  await page.waitForFunction(() => !document.querySelector(".gutter .error"));
}

// The text: marked as one types, saved in one move, the old one kept, nothing of anybody's overwritten.
{
  await tab(page, "Text");
  const area = page.locator("#source");
  await page.waitForFunction((text) => document.getElementById("source").value === text, written);
  await area.fill(written.replace('"1.2 %"', '"1.2 percents"'));
  await page.waitForSelector(".gutter .error");
  hold("nothing is written while one types", readFileSync(recipe, "utf8") === written);
  const better = written.replace('"1.2 %"', '"1.3 %"');
  await area.fill(better);
  await page.waitForFunction(() => !document.querySelector(".gutter .error"));
  await page.getByRole("button", { name: "Save", exact: true }).click();
  for (let waited = 0; readFileSync(recipe, "utf8") !== better && waited < 15000; waited += 20) await sleep(20);
  alike("the text is saved", readFileSync(recipe, "utf8"), better);
  const kept = join(content, ".tallyspoon.kept");
  const copies = readdirSync(kept).filter((name) => name.startsWith("sweetcorn-puffs~recipe.md."));
  alike("one copy is kept", copies.length, 1);
  alike("of what was there", readFileSync(join(kept, copies[0]), "utf8"), written);
  alike("a repository does not see it", readFileSync(join(kept, ".gitignore"), "utf8"), "*\n");
  await sleep(500);
  await area.fill(better.replace("Harbour-wall", "Sea-wall"));
  const theirs = better.replace("Harbour-wall", "Quay-side");
  save(recipe, theirs);
  await page.waitForSelector(".clash:not([hidden])");
  await page.getByRole("button", { name: "Save", exact: true }).click();
  await sleep(300);
  alike("theirs is not overwritten", readFileSync(recipe, "utf8"), theirs);
  await clean(page, "two edits at once");
  await page.getByRole("button", { name: "Read it anew" }).click();
  await page.waitForFunction((text) => document.getElementById("source").value === text, theirs);
  save(recipe, written);
  await page.waitForFunction((text) => document.getElementById("source").value === text, written);
  await clean(page, "the text");
}

// Prices are written as the command writes them.
{
  const book = join(content, "prices.csv"), before = readFileSync(book);
  const twin = join(place, "twin");
  cpSync(content, twin, { recursive: true });
  const added = run("prices", "add", "salt", "750 g", "1.15", "--on", "2026-09-09", "--place", "market, hall", "--offer", "--content", twin);
  alike("the command adds a price", added.status, 0);
  await tab(page, "Prices");
  await page.waitForSelector("#panel-prices tbody tr");
  await clean(page, "the price book");
  const form = page.getByRole("form", { name: "A purchase" });
  const put = (name, text) => form.locator(`[name=${name}]`).fill(text);
  await put("item", "salt");
  await put("pack", "750 g");
  await put("price", "1,,15");
  await put("on", "2026-09-09");
  await put("place", "market, hall");
  await form.getByRole("checkbox").check();
  await form.getByRole("button").click();
  await page.waitForSelector("#sounding.odd");
  hold("a slip is told and nothing is written", readFileSync(book).equals(before));
  await put("price", "1.15");
  await form.getByRole("button").click();
  for (let waited = 0; readFileSync(book).equals(before) && waited < 15000; waited += 20) await sleep(20);
  alike("the book is as the command leaves it", readFileSync(book, "utf8"), readFileSync(join(twin, "prices.csv"), "utf8"));
  writeFileSync(book, before);
  await sleep(600);
}

// Costs, supposed prices.
{
  await tab(page, "Costs");
  const lever = page.getByRole("slider", { name: /Price of sunflower oil/ });
  await lever.fill("30");
  await page.waitForSelector(".outcome dd b");
  await clean(page, "supposed prices");
  await page.getByRole("button", { name: "All that would change" }).click();
  await page.waitForSelector(".outcome .log li:nth-child(3)", { timeout: 120000 });
  const lines = await page.locator(".outcome .log li").allTextContents();
  const command = run("prices", "what-if", "sunflower-oil", "+30%", "--content", content).stdout.trim().split("\n").slice(1, -1).map((line) => line.replaceAll("`", ""));
  alike("what would change is what the command says", lines.slice(1, -1).join("\n"), command.join("\n"));
  await page.getByRole("button", { name: "Back to today" }).click();
}

// The notes on the clipboard.
{
  await tab(page, "Notes");
  await page.waitForFunction(() => document.querySelector("#panel-notes textarea").value !== "");
  await page.getByRole("button", { name: "Copy the notes" }).click();
  await page.waitForFunction(() => document.getElementById("sounding").textContent !== "");
  alike("the notes are those of the command", await page.evaluate(() => navigator.clipboard.readText()), run("notes", "sweetcorn-puffs", "--content", content).stdout);
  await clean(page, "the notes");
}

// What was said.
{
  await tab(page, "Said");
  await page.setInputFiles("#panel-said input[type=file]", join(content, "sweetcorn-puffs", "captions.vtt"));
  await page.waitForSelector(".tally");
  const { claims } = JSON.parse(run("proof", "sweetcorn-puffs", join(content, "sweetcorn-puffs", "captions.vtt"), "--json", "--content", content).stdout);
  const tally = (verdict) => claims.filter((claim) => claim.verdict === verdict).length;
  alike("the findings are those of the command", await page.locator(".tally").textContent(), `${tally("differs")} differ, ${tally("agrees")} agree, ${tally("unplaced")} without a figure`);
  const first = await page.locator(".finding").textContent();
  const wrong = claims.find((claim) => claim.verdict !== "agrees");
  hold("what would be right is told", first.includes(wrong.expected_shown) && first.includes(wrong.text), first);
  await page.getByRole("button", { name: "Next", exact: true }).click();
  hold("the next one comes", (await page.locator(".finding").textContent()) !== first);
  await page.getByRole("button", { name: "Previous", exact: true }).click();
  alike("and the one before", await page.locator(".finding").textContent(), first);
  await clean(page, "what was said");
}

// A take and publishing.
{
  await tab(page, "Take");
  await page.locator("#panel-take input[type=date]").fill("2026-10-10");
  await page.getByRole("button", { name: "Keep this take" }).click();
  await page.waitForSelector("#panel-take .log li", { timeout: 60000 });
  hold("the take is kept", existsSync(join(content, "sweetcorn-puffs", "slates", "2026-10-10.toml")), readdirSync(join(content, "sweetcorn-puffs")).join());
  await page.getByRole("button", { name: "Publish everything" }).click();
  await page.getByRole("button", { name: "Look at it" }).waitFor({ timeout: 180000 });
  hold("everything is published", existsSync(join(place, "out", "index.html")));
  const again = run("publish", "--content", content, "--out", join(place, "out"));
  hold("the command finds nothing to do", again.stdout.startsWith("nothing to do"), again.stdout);
  await clean(page, "a take and publishing");
}

// Other windows, other light.
for (const [width, height] of [[1024, 768], [768, 1024], [360, 740]]) {
  await page.setViewportSize({ width, height });
  for (const name of ["Amounts", "Text", "Costs"]) {
    await tab(page, name);
    await page.waitForTimeout(250);
    await clean(page, `${name} at ${width}`);
  }
}
await page.setViewportSize({ width: 1440, height: 900 });
await page.getByRole("button", { name: "Lamp light" }).click();
for (const name of ["Amounts", "Text", "Costs", "Prices", "Notes", "Said", "Take", "Mend"]) {
  await page.getByRole("tab", { name }).click();
  await page.waitForTimeout(250);
  await clean(page, `${name} by lamp light`);
}

// Idle is idle.
{
  await page.waitForTimeout(1500);
  const ticks = () => readFileSync(`/proc/${open.child.pid}/stat`, "utf8").split(") ")[1].split(" ").slice(11, 13).reduce((sum, part) => sum + Number(part), 0);
  const before = ticks();
  await sleep(4000);
  const used = ticks() - before;
  console.log(`idle: ${used} ticks in 4 s`);
  hold("idle use is near zero", used <= 2, `${used} ticks`);
}

// Closing by its button.
{
  // What a slip is answered with is no complaint of the page's.
  for (const one of complaints.splice(0).filter((fault) => !refusal.test(fault))) hold("the page complains of nothing", false, one);
  checks += 1;
  await page.getByRole("button", { name: "Close the studio" }).click();
  alike("the button closes it", await within(open.ended), 0);
  await page.waitForSelector("#gone:not([hidden])");
  await clean(page, "the closed studio");
  await context.close();
}

// Hostile content: nothing of it runs, nothing of it is asked for elsewhere.
{
  const bad = `<img src=x onerror="window.ran=1"><script>window.ran=2</script>`;
  const hostile = join(place, "hostile");
  cpSync("content", hostile, { recursive: true });
  const toml = (text) => JSON.stringify(text);
  writeFileSync(join(hostile, "channel.toml"), readFileSync(join(hostile, "channel.toml"), "utf8").replace('"Bramble Ferry Kitchen"', toml(`Kitchen ${bad}`)));
  const dish = join(hostile, "sweetcorn-puffs", "recipe.md");
  writeFileSync(dish, written.replace('"Harbour-wall sweetcorn puffs"', toml(`Puffs ${bad}`)).replace("## Season", `## Season ${bad}`).replace("finely sliced", `sliced ${bad.replaceAll('"', "'")}`));
  writeFileSync(join(hostile, "prices.csv"), readFileSync(join(hostile, "prices.csv"), "utf8") + `2026-09-09,salt,750 g,1.15,"${bad.replaceAll('"', '""')}",\n`);
  const own = join(hostile, "themes", "harbour", "art");
  mkdirSync(own, { recursive: true });
  writeFileSync(join(own, "list.svg"), readFileSync("themes/harbour/art/list.svg", "utf8").replace("</svg>", `<script>window.ran=3</script></svg>`));
  const there = await studio(hostile);
  const seen = await visit(there.url, "#sweetcorn-puffs/weigh-out/amounts");
  await seen.page.waitForSelector("body[data-state]");
  await seen.page.waitForTimeout(1500);
  for (const name of ["Amounts", "Text", "Costs", "Prices", "Notes", "Said", "Take", "Mend"]) {
    await seen.page.getByRole("tab", { name }).click();
    await seen.page.waitForTimeout(250);
  }
  await seen.page.getByRole("tab", { name: "Said" }).click();
  await seen.page.setInputFiles("#panel-said input[type=file]", { name: "<img src=x onerror=alert(1)>.vtt", mimeType: "text/vtt", buffer: Buffer.from(`WEBVTT\n\n00:01.000 --> 00:04.000\nA hundred grams of ${bad} chickpea flour.\n`) });
  await seen.page.waitForTimeout(800);
  alike("nothing hostile runs", await seen.page.evaluate(() => String(window.ran)), "undefined");
  for (const one of seen.faults.filter((fault) => !refusal.test(fault))) hold("a hostile channel makes no complaint", false, one);
  await seen.context.close();
  there.child.kill("SIGTERM");
  alike("a request to terminate closes it", await within(there.ended), 0);
}

// A first channel.
{
  const fresh = join(place, "fresh", "kitchen");
  const there = await studio(fresh);
  const seen = await visit(there.url);
  const first = seen.page;
  await first.waitForSelector("form.first");
  await clean(first, "a first run");
  await first.getByLabel("What is it called?").first().fill("Quay Larder");
  await first.getByLabel("Where do you cook").selectOption("en-GB");
  alike("the currency follows the place", await first.locator("[name=currency]").inputValue(), "GBP");
  await first.getByLabel("What is it called?").nth(1).fill("Slipway flatbread");
  await first.getByLabel("What does a batch make?").fill("4 flatbreads");
  await first.locator("[name=lines]").fill("flour 390 g\nwatr 250 g\nsalt 2 tsp\nbutter 7 g\nseaweed dust 3 g");
  await first.getByRole("button", { name: "Yes, water" }).click();
  await first.waitForFunction(() => document.querySelector(".draft").textContent.includes("water"));
  await clean(first, "a first dish");
  await first.getByRole("button", { name: "Open the kitchen" }).click();
  await first.waitForSelector("#bench:not([hidden])");
  await ready(first);
  const figures = JSON.parse(run("figures", "slipway-flatbread", "--content", fresh, "--json").stdout);
  const grams = Object.fromEntries(figures.lines.map((line) => [line.item, line.grams]));
  alike("flour comes back", grams["plain-flour"], "390");
  alike("water comes back", grams.water, "250");
  alike("butter comes back", grams.butter, "7");
  alike("what is new comes back", grams["seaweed-dust"], "3");
  hold("what is not known is said", figures.allergens.unknown.join().includes("seaweed dust"), figures.allergens.unknown.join());
  await clean(first, "the first dish on the bench");
  await first.getByRole("button", { name: "Begin another dish" }).click();
  await first.getByLabel("What is it called?").fill("Pier pickle");
  await first.locator("[name=lines]").fill("onion 300 g\nvinegar 200 mL");
  await first.getByRole("button", { name: "Begin the dish" }).click();
  await first.waitForFunction(() => document.querySelectorAll("#dishes li").length === 2);
  hold("a second dish is there", existsSync(join(fresh, "pier-pickle", "recipe.md")));
  for (const one of seen.faults.filter((fault) => !refusal.test(fault))) hold("a first run makes no complaint", false, one);
  await seen.context.close();
  there.child.kill("SIGINT");
  alike("Ctrl-C closes it", await within(there.ended), 0);
}
// The same from a script.
{
  const fresh = join(place, "scripted");
  const given = (lines, ...more) => spawnSync(program, ["new", fresh, "--name", "N", "--title", "Loaf", ...more], { input: lines, encoding: "utf8" });
  const slip = given("flour 500 g\nwatr 340 g\n");
  hold("a slip is asked about and nothing is made", slip.status === 2 && /water/.test(slip.stderr) && !existsSync(fresh), slip.stderr);
  alike("a script makes a channel", given("flour 500 g\nwater 340 g\nsalt 2 tsp\n").status, 0);
  alike("which has no errors", run("check", "--content", fresh).status, 0);
  alike("the program lives on its own", execFileSync(program, ["figures", "loaf", "--content", fresh], { encoding: "utf8" }).includes("340 g"), true);
}

await browser.close();
rmSync(place, { recursive: true, force: true });
if (faults.length) {
  console.error(faults.map((fault) => `  ${fault}`).join("\n"));
  console.error(`${faults.length} faults`);
  process.exit(1);
}
console.log(`the studio holds in ${checks} checks`);
