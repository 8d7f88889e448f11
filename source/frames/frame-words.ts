/** Words of options, read where options are declared as well. */
export const frameFormats = ['csv', 'tsv', 'ndjson', 'comma', 'labels'] as const;
export type FrameFormat = (typeof frameFormats)[number];

export const valueKinds = ['raw', 'bend', 'percent'] as const;
export type ValueKind = (typeof valueKinds)[number];
