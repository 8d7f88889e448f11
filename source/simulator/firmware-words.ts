/**
 * What `--firmware` takes: what the board's program does with the readings, and after a `/` what comes with it: one
 * false reading at start, or smoothing before it learns.
 */
export const firmwareWords = ['raw', 'averaged', 'scaled', 'learns', 'learns/glitch', 'learns/smoothed'] as const;
