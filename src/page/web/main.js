// Starts the page.

const { pattern: data, words } = JSON.parse(find("#pattern").textContent);
const pattern = opened(data);

/** What a yield comes to, as the page shows it; the fragment is as in an address: `makes=40&variant=tinned`. */
globalThis.tallyspoon = (fragment) => {
  try {
    const { at, asked } = askedIn(fragment, pattern);
    return new Sheet(pattern, at, factorOf(pattern, pattern.variants[at], asked));
  } catch (fault) {
    if (fault instanceof Refused) return { refused: fault.why, about: fault.about };
    throw fault;
  }
};

const store = new Store(pattern.recipe);
const timers = new Timers(words, store, find("#timers"));
const walk = new Walk(words, store, timers, find("#walk"));
const chosen = new Yield(pattern, words, new View(pattern, words), (sheet) => walk.show(sheet));
// What an address asks for is shown at once, and not first what is written.
document.documentElement.classList.remove("waits");

// A duration on the page starts its timer, too.
pattern.method.steps.forEach(({ id, measures }, at) => {
  const chips = every(`[data-step="${id}"] .chips li`);
  measures.forEach(({ shown, seconds }, index) => {
    if (!chips[index] || !Timers.fits(seconds)) return;
    const button = made("button", { type: "button", "aria-label": filled(words["live-timer-start"], { time: shown }) }, shown);
    button.addEventListener("click", () => timers.start(plain(chosen.sheet.steps[at].title), shown, seconds));
    chips[index].replaceChildren(button);
  });
});
