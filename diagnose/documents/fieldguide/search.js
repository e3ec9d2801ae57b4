// Searching the index of the guide: folds letters with accents, forgives small slips, knows other names. Nothing leaves the page.
"use strict";
(() => {
  const fold = (text) => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/[^a-z0-9]+/g, " ").trim();
  const MOST = 40;
  // Words that say nothing of a piece: left out, unless there are no others.
  const SMALL = new Set(
    "a an and are at be by can do does for from has have how i if in is it its me my of on or our so that the then there this to was what when where which why will with".split(" "),
  );

  // How many letters must be put in, taken out, changed or swapped to make one word of the other; stops early above `limit`.
  const slips = (one, other, limit) => {
    if (Math.abs(one.length - other.length) > limit) return limit + 1;
    let before = [];
    let row = Array.from({ length: other.length + 1 }, (_, place) => place);
    for (let i = 1; i <= one.length; i += 1) {
      const next = [i];
      for (let j = 1; j <= other.length; j += 1) {
        const same = one[i - 1] === other[j - 1] ? 0 : 1;
        next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + same);
        if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) next[j] = Math.min(next[j], before[j - 2] + 1);
      }
      if (Math.min(...next) > limit) return limit + 1;
      before = row;
      row = next;
    }
    return row[other.length];
  };

  // How well a wanted word is met by the words of a text: 1 is the word itself, 0 is not at all.
  const met = (wanted, words) => {
    let best = 0;
    for (const word of words) {
      if (word === wanted) return 1;
      if (word.startsWith(wanted)) best = Math.max(best, 0.85);
      else if (wanted.length > 3 && word.includes(wanted)) best = Math.max(best, 0.6);
      else if (wanted.length > 3) {
        const limit = wanted.length > 7 ? 2 : 1;
        const far = Math.min(slips(wanted, word, limit), wanted.length > 4 ? slips(wanted, word.slice(0, wanted.length), limit) + 0.5 : 9);
        if (far <= limit) best = Math.max(best, 0.75 - 0.15 * far);
      }
    }
    return best;
  };

  // The words of a name, and all of them run together, since people write bookcase and book case.
  const words = (text) => {
    const each = fold(text).split(" ");
    return each.length > 1 ? [...each, each.join("")] : each;
  };
  const entries = window.FIELD_GUIDE.map(([title, kind, path, also]) => ({
    title, kind, path, also, name: words(title), names: also.map(words),
  }));

  // What has every word; where nothing has, what has as many of them as anything has (`whole` is false then).
  const find = (text) => {
    const said = fold(text).split(" ").filter(Boolean);
    const telling = said.filter((word) => !SMALL.has(word));
    const wanted = telling.length ? telling : said;
    let found = [];
    let most = 1;
    for (const entry of wanted.length ? entries : []) {
      let worth = 0;
      let by = "";
      [entry.name, ...entry.names].forEach((held, place) => {
        const each = wanted.map((word) => met(word, held));
        const hits = each.filter((one) => one > 0).length;
        if (hits < most) return;
        if (hits > most) {
          most = hits;
          found = [];
          worth = 0;
        }
        const sum = each.reduce((total, one) => total + one, 0) / wanted.length;
        const here = sum * (place ? 0.9 : 1) + 0.1 * wanted.length / Math.max(held.length, wanted.length);
        if (here > worth) { worth = here; by = place ? entry.also[place - 1] : ""; }
      });
      if (worth > 0) found.push({ entry, worth, by });
    }
    found.sort((a, b) => b.worth - a.worth || a.entry.title.localeCompare(b.entry.title));
    return { found: found.slice(0, MOST), whole: most >= wanted.length };
  };

  const field = document.getElementById("words");
  const list = document.getElementById("results");
  const count = document.getElementById("count");
  const show = () => {
    const { found, whole } = find(field.value);
    list.replaceChildren(...found.map(({ entry, by }) => {
      const item = document.createElement("li");
      const link = document.createElement("a");
      link.href = entry.path;
      link.textContent = entry.title;
      item.append(link, `, ${entry.kind}`, by ? ` (${by})` : "");
      return item;
    }));
    if (!field.value.trim()) count.textContent = "";
    else if (!found.length) count.textContent = "Nothing found. Try fewer or other words.";
    else count.textContent = `${found.length}${found.length === MOST ? " or more" : ""} found${whole ? "" : ", none with all the words"}`;
  };
  field.value = new URLSearchParams(window.location.search).get("q") || "";
  field.addEventListener("input", show);
  field.form.addEventListener("submit", (event) => { event.preventDefault(); show(); });
  show();
})();
