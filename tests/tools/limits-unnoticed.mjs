/** Moves that no data test can notice, by `code/way/limit down` or `… up`, each with the reason. */
export const unnoticed = {};
