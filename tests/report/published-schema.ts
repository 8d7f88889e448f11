import {readdirSync, readFileSync} from 'node:fs';
import {Ajv2020} from 'ajv/dist/2020.js';
import {expect} from 'vitest';

const folder = new URL('../../docs/schemas/', import.meta.url);

/** The published schema of this name under docs/schemas/. */
export function readSchema(name: string): {readonly $id: string} {
	return JSON.parse(readFileSync(new URL(`${name}.schema.json`, folder), 'utf8'));
}

// An independent validator of the published schema language (JSON Schema 2020-12). Schemas refer to each other.
const ajv = new Ajv2020({allErrors: true, strict: true, allowUnionTypes: true});
for (const file of readdirSync(folder)) ajv.addSchema(readSchema(file.replace('.schema.json', '')));

/** Whether a value keeps to the published schema of this name. */
export function keepsTo(name: string, value: unknown): boolean {
	return ajv.getSchema(readSchema(name).$id)!(value) as boolean;
}

/** Fails with the schema's own words where a value does not keep to it. */
export function expectToKeepTo(name: string, value: unknown): void {
	const isValid = ajv.getSchema(readSchema(name).$id)!;
	isValid(value);
	expect(isValid.errors, name).toBeNull();
}
