// The method at a yield: braces resolved into amounts, shares that add up to what the table shows. A phrase is a list of
// texts and of figures `{ figure }`, which are never broken over lines.

/** So many names of what has no price stand in a sentence; of more it tells how many they are. */
const NAMED = 3;

/** The introduction and the steps. */
function told(sheet) {
  const writer = new Writer(sheet);
  const { intro, steps } = sheet.pattern.method;
  return {
    intro: intro.map((paragraph) => writer.phrase(paragraph, [])),
    steps: steps.map((step) => writer.step(step)),
  };
}

/** The plain text of a phrase. */
function plain(phrase) {
  return phrase.map((piece) => (typeof piece === "string" ? piece : piece.figure)).join("");
}

/** Puts the method in words; remembers the shares of each line so that they add up to it. */
class Writer {
  constructor(sheet) {
    this.sheet = sheet;
    this.shares = new Map();
    this.said = [];
    this.onCard = false;
  }

  step(step) {
    const uses = [];
    const atStart = new Map(this.shares);
    this.said = [];
    const title = this.phrase(step.title, uses);
    const text = step.text.map((paragraph) => this.phrase(paragraph, uses));
    const gathered = this.gathered(uses, atStart);
    // A card repeats what the text says: its shares are not taken again.
    const taken = new Map(this.shares);
    this.onCard = true;
    const card = step.card ? this.phrase(step.card, []) : title;
    this.onCard = false;
    this.shares = taken;
    return { id: step.id, title, card, text, uses: gathered, measures: step.measures, wait: step.wait };
  }

  /** Each line once: what a step takes of it in several shares is one amount to have at hand. */
  gathered(uses, atStart) {
    const found = [];
    for (const use of uses) {
      const first = found.find((known) => known.id === use.id);
      if (!first) {
        found.push({ ...use });
        continue;
      }
      if (!use.at) continue;
      const none = { share: ZERO, shown: ZERO };
      const before = atStart.get(use.key) ?? none;
      const after = this.shares.get(use.key) ?? none;
      const share = after.share.minus(before.share);
      if (share.is(ONE) || share.sign === 0) {
        ({ amount: first.amount, name: first.name } = this.sheet.line(use.at));
      } else if (this.batchLine(use.at).quota.kind === "weight") {
        const { grams, low } = this.batchLine(use.at);
        first.amount = this.range(grams.times(share), low, after.shown.minus(before.shown));
      } else {
        found.push({ ...use });
      }
    }
    return found;
  }

  batchLine([part, line]) {
    return this.sheet.batch.parts[part].lines[line];
  }

  phrase(inlines, uses) {
    return inlines.flatMap((inline) => {
      if (typeof inline === "string") return [inline];
      if (inline.figure) return [{ figure: inline.figure }];
      if (inline.outcome) return this.outcome(inline.outcome);
      return inline.line ? this.line(inline, uses) : this.part(inline, uses);
    });
  }

  outcome(name) {
    const { yields: made, cost, batch, notation, pattern } = this.sheet;
    const figure = {
      pieces: () => made.pieces,
      each: () => made.each,
      cost: () => cost.total,
      costEach: () => cost.each,
      hydration: () => this.sheet.percentText(batch.nominal),
      batch: () => made.basis,
    }[name]();
    const whole = !name.startsWith("cost") || cost.complete;
    const phrase = [figure ? { figure } : "—"];
    if (whole) return phrase;
    const count = cost.missing.length;
    const text = count > NAMED ? String(count) : notation.list(cost.missing.map((missing) => missing.name));
    return [...phrase, ` (${filled(pattern.words.labelled, { label: pattern.words.noPrice, text })})`];
  }

  line({ line: at, share, field }, uses) {
    const line = this.batchLine(at);
    const figures = this.sheet.line(at);
    const { kitchen, notation } = this.sheet;
    const of = share ? Exact.read(share.of) : ONE;
    const name = lineName(notation, line, of);
    if (field === "name") return [name];
    if (field === "percent") return [{ figure: linePercent(kitchen, line, of)?.text ?? figures.amount }];
    const amount = this.amount(line, figures, share);
    uses.push({ id: figures.id, key: `line ${at}`, at, amount, name });
    if (field === "both") {
      if (!line.grams) return [name];
      const counted = line.quota.kind === "count" && quotaText(kitchen, line, of) !== null;
      return around(counted ? `{amount} ${name}` : name === line.many ? line.ofMany : line.of, amount);
    }
    const spooned = field === "household" && spoons(kitchen, line, this.sheet.batch.item(line), of);
    return [{ figure: spooned || amount }];
  }

  /** A whole part, or a share of it: its total, with its title as the name. */
  part({ part: index, share, field }, uses) {
    const { title, id, of } = this.sheet.pattern.parts[index];
    const name = title ?? id;
    if (field === "name") return [name];
    const { total } = this.sheet.formula[index];
    const exact = this.sheet.batch.parts[index].total;
    const amount = share ? this.shareOf(`part ${index}`, share, [exact, null], total.value) : total.text;
    uses.push({ id, key: `part ${index}`, at: null, amount, name });
    return field === "both" ? around(of, amount) : [{ figure: amount }];
  }

  amount(line, figures, share) {
    if (!share || !line.grams) return figures.amount;
    const weight = this.shareOf(`line ${line.at}`, share, [line.grams, line.low], figures.weighed.value);
    if (line.quota.kind !== "count") return weight;
    return quotaText(this.sheet.kitchen, line, Exact.read(share.of)) ?? weight;
  }

  /** A shown weight, from so much of the exact one on where it was written as a range. */
  range(exact, low, shown) {
    const { kitchen } = this.sheet;
    const high = kitchen.weighed(shown).text;
    return low ? joined(kitchen.weight(exact.times(low)).text, high) : high;
  }

  /** The share that completes a whole is what the others left of the shown weight, so that they add up. */
  shareOf(key, share, [exact, low], shown) {
    const as = `${share.of} ${share.rest}`;
    const repeated = this.onCard && this.said.find((known) => known.key === key && known.as === as);
    if (repeated) return repeated.text;
    const before = this.shares.get(key) ?? { share: ZERO, shown: ZERO };
    const taken = before.share.plus(Exact.read(share.of));
    const { kitchen } = this.sheet;
    const some = exact.times(Exact.read(share.of));
    const value = taken.is(ONE) ? shown.minus(before.shown) : kitchen.weight(some).value;
    const text = this.range(some, low, value);
    this.shares.set(key, { share: taken, shown: before.shown.plus(value) });
    this.said.push({ key, as, text });
    return text;
  }
}

/** An amount with its name, as the language joins them. */
function around(text, amount) {
  const whole = text.replace("{amount}", () => amount);
  return whole.startsWith(amount) ? [{ figure: amount }, whole.slice(amount.length)] : [whole];
}
