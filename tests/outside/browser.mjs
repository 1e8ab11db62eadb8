// Debian's Chromium under playwright, for the browser checks: every page is watched for what no page here may do.
// Needs NODE_PATH to hold playwright-core and axe-core; tests/all sets it.
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const require = createRequire(process.env.NODE_PATH + "/");
export const { chromium } = require("playwright-core");
const axeSource = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

/** Starts Chromium; nothing of it speaks to the outside by itself. */
export function launch() {
  return chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: [
      "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
      "--disable-background-networking", "--disable-component-update", "--disable-sync",
    ],
  });
}

/**
 * A page whose faults are collected: console errors and warnings, uncaught errors, failed requests, and every
 * request that `own` (a predicate of URLs) does not know as the page's own.
 */
export async function watched(browser, own, options = {}) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const faults = [];
  page.on("console", (said) => {
    if (["error", "warning"].includes(said.type())) faults.push(`console ${said.type()}: ${said.text()}`);
  });
  page.on("pageerror", (error) => faults.push(`uncaught: ${error.message}`));
  page.on("requestfailed", (request) => faults.push(`failed request: ${request.url()}`));
  page.on("request", (request) => {
    if (!own(request.url())) faults.push(`outside request: ${request.url()}`);
  });
  return { context, page, faults };
}

/** Violations that axe-core finds by the rules of WCAG 2.2 A and AA and its best practices, a line each. */
export async function violations(page) {
  await page.evaluate(axeSource);
  const tags = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
  const found = await page.evaluate((tags) => axe.run(document, { runOnly: { type: "tag", values: tags } }), tags);
  return found.violations.flatMap(({ id, help, nodes }) => nodes.map((node) => `${id}: ${help}: ${node.target.join(" ")}`));
}
