import {createRequire} from 'node:module';

const require = createRequire(import.meta.url);

/** Packages from the registry that know nothing of this project, used as outside checks. They bring no types. */
export const slip = require('slip') as {encode(bytes: Uint8Array): Uint8Array};
export const cobs = require('cobs') as {encode(bytes: Buffer): Buffer};
export const polycrc = require('polycrc') as {
	crc(
		width: number,
		polynomial: number,
		start: number,
		exclusiveOr: number,
		reflected: boolean,
	): (bytes: Buffer) => number;
};
