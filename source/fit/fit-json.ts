import {tool} from '../version.ts';
import type {FitResult} from './fit-result.ts';

/** Digits that mean anything in a setting. */
const digits = 6;

/** What `fit --json` prints (schema 1): the result with its numbers rounded to six figures. */
export function fitJson(result: FitResult, {kind, name}: {readonly kind: string; readonly name: string}): unknown {
	return rounded({schema: 1, tool: {name: tool.name, version: tool.version}, source: {kind, name}, ...result});
}

function rounded(value: unknown): unknown {
	if (typeof value === 'number') return Number.isFinite(value) ? Number(value.toPrecision(digits)) : null;
	if (Array.isArray(value)) return value.map(rounded);
	if (typeof value !== 'object' || value === null) return value;
	return Object.fromEntries(Object.entries(value).map(([key, entry]) => [key, rounded(entry)]));
}
