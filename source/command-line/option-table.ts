import type {OptionEntry} from './option-entry.ts';
import {looksOptions} from './options/looks-options.ts';
import {otherOptions} from './options/other-options.ts';
import {outputOptions} from './options/output-options.ts';
import {readingOptions} from './options/reading-options.ts';

const entries = {...readingOptions, ...outputOptions, ...looksOptions, ...otherOptions};

export type OptionName = keyof typeof entries;

/** Every option there is. One of the same name means the same thing in every command. */
export const optionTable: Readonly<Record<OptionName, OptionEntry>> = entries;

/** Taken by every command. */
export const commonOptions: readonly OptionName[] = ['color', 'ascii', 'help', 'version'];
