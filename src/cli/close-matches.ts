/** The words that are nearest to what was typed, nearest first: those that hold it come before those spelled alike. */
export function closeMatches(typed: string, words: readonly string[], most = 5): readonly string[] {
  const wanted = typed.toLowerCase();
  return words
    .map(word => {
      const lower = word.toLowerCase();
      const held = lower.includes(wanted) || wanted.includes(lower);
      return { word, held, distance: editDistance(wanted, lower) };
    })
    .filter(({ word, held, distance }) => held || distance <= Math.max(3, Math.ceil(word.length / 3)))
    .sort((a, b) => Number(b.held) - Number(a.held) || a.distance - b.distance || (a.word < b.word ? -1 : 1))
    .slice(0, most)
    .map(({ word }) => word);
}

/** How many letters must be put in, taken out or changed to turn one word into the other (Levenshtein 1966). */
export function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
