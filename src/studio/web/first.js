// A channel begun from a few questions, and a dish from lines as they are jotted down.
import { Refusal, el, fill, later, sentence, tell } from "./kit.js";

const measures = [["metric", "metric: cup 250 mL, spoons 15 and 5"], ["us", "United States"], ["uk", "imperial"], ["au", "Australia"], ["ca", "Canada"], ["jp", "Japan"]];

/** Fills `root` with the questions; `done` is told the dish's folder. */
export function beginning(root, state, another, done, leave) {
  const own = [];
  const field = (name, text, more = {}, help = null) => el("label", {}, el("span", { text }), el("input", { name, autocomplete: "off", ...more }), help ? el("small", { class: "soft", text: help }) : null);
  const where = el("select", { name: "locale" }, state.places.map((place) => el("option", { value: place.locale, text: place.name })));
  const home = state.places.find((place) => navigator.languages.includes(place.locale)) ?? state.places[0];
  where.value = home.locale;
  const currency = el("input", { name: "currency", size: 4, maxLength: 3, autocomplete: "off", value: home.currency });
  const spoons = el("select", { name: "measures" }, measures.map(([value, text]) => el("option", { value, text })));
  spoons.value = home.measures;
  where.addEventListener("change", () => {
    const place = state.places.find((one) => one.locale === where.value);
    currency.value = place.currency;
    spoons.value = place.measures;
  });
  const lines = el("textarea", { name: "lines", rows: 10, spellcheck: "false", required: true, placeholder: "flour 500 g\nwater 340 g\nsalt 2 tsp\nblack pepper to taste" });
  const asks = el("ul", { class: "found", "aria-live": "polite" });
  const draft = el("pre", { class: "draft", tabIndex: 0, role: "region", "aria-label": "The formula in percents" });
  const go = el("button", { type: "submit", text: another ? "Begin the dish" : "Open the kitchen" });
  const form = el("form", { class: "first" },
    el("header", {}, el("h2", { text: another ? "Another dish" : "A new kitchen" }), el("p", { text: another
      ? "Write what goes in, a line each, as you would jot it down. Weights become percents, so any batch follows."
      : `A few questions, and your first dish as you would jot it down. It becomes plain files in ${state.folder} that you can open with anything.` })),
    another ? null : el("fieldset", {}, el("legend", { text: "Your channel" }), field("name", "What is it called?", { required: true }),
      el("label", {}, el("span", { text: "Where do you cook, and in which language?" }), where),
      el("div", { class: "pair" }, el("label", {}, el("span", { text: "Currency" }), currency), el("label", {}, el("span", { text: "Spoons and cups" }), spoons))),
    el("fieldset", {}, el("legend", { text: another ? "The dish" : "Your first dish" }),
      el("div", { class: "pair" }, field("title", "What is it called?", { required: true }), field("makes", "What does a batch make?", { placeholder: "12 rolls" })),
      el("div", { class: "pair tall" }, el("label", {}, el("span", { text: "What goes in, one a line" }), lines), el("div", {}, el("span", { text: "As a formula" }), el("div", { class: "answer" }, asks, draft)))),
    el("div", { class: "row" }, go, another ? el("button", { type: "button", class: "quiet", text: "Leave it", click: leave }) : null));
  fill(root, form);
  (another ? form.elements.namedItem("title") : form.elements.namedItem("name")).focus();

  const told = (dry) => {
    const value = (name) => form.elements.namedItem(name)?.value ?? "";
    return { name: value("name") || (dry ? "My kitchen" : ""), locale: value("locale"), currency: value("currency"), measures: value("measures"), title: value("title") || (dry ? "A dish" : ""), makes: value("makes"), lines: value("lines"), own, dry };
  };
  let asking = 0;
  async function look() {
    const asked = ++asking;
    if (!lines.value.trim()) { fill(asks); draft.textContent = ""; return; }
    try {
      const made = await tell("begin", told(true));
      if (asked !== asking) return;
      if (made.error) throw new Refusal(422, made);
      draft.textContent = made.text.split("[formula]\n")[1]?.split("+++")[0].trim() ?? "";
      fill(asks, made.fresh.length ? el("li", { class: "warning", text: `New to the pantry: ${made.fresh.join(", ")}. Its water and allergens are not known yet, and will be said so.` }) : null);
    } catch (refusal) {
      if (asked === asking) refused(refusal);
    }
  }
  function refused(refusal) {
    if (!(refusal instanceof Refusal)) throw refusal;
    draft.textContent = "";
    const slips = refusal.body.slips ?? [];
    fill(asks, slips.length ? slips.map((slip) => el("li", { class: "error" }, el("b", { text: `Line ${slip.at}` }), ` ${sentence(slip.message)} `,
      slip.meant ? el("button", { type: "button", text: `Yes, ${slip.meant}`, click: () => put(slip) }) : null,
      slip.name ? el("button", { type: "button", class: "quiet", text: "No, as written", click: () => { own.push(slip.name); look(); } }) : null))
      : refusal.message.split("\n").map((text) => el("li", { class: "error", text: sentence(text) })));
  }
  function put(slip) {
    const all = lines.value.split("\n");
    // Names are known with single spaces.
    all[slip.at - 1] = all[slip.at - 1].replace(/\s+/g, " ").trim();
    const at = all[slip.at - 1].toLowerCase().indexOf(slip.name);
    if (at >= 0) all[slip.at - 1] = all[slip.at - 1].slice(0, at) + slip.meant + all[slip.at - 1].slice(at + slip.name.length);
    lines.value = all.join("\n");
    look();
  }
  form.addEventListener("input", later(250, look));
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    go.disabled = true;
    try {
      const made = await tell("begin", told(false));
      done(made.recipe);
    } catch (refusal) { refused(refusal); }
    go.disabled = false;
  });
}
