/** How far two texts are apart. */

/**
 * Characters to put in, take out, change, or exchange with the one beside it, to make one text of the other (the optimal
 * string alignment distance; from memory).
 */
export const changedCharacters = (from: string, to: string): number => {
  const rows: number[][] = [Array.from({ length: to.length + 1 }, (_, column) => column)];
  for (let i = 1; i <= from.length; i++) {
    const row = [i];
    for (let j = 1; j <= to.length; j++) {
      const change = from[i - 1] === to[j - 1] ? 0 : 1;
      let least = Math.min(rows[i - 1][j] + 1, row[j - 1] + 1, rows[i - 1][j - 1] + change);
      const exchanged = i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1];
      if (exchanged) least = Math.min(least, rows[i - 2][j - 2] + 1);
      row.push(least);
    }
    rows.push(row);
  }
  return rows[from.length][to.length];
};
