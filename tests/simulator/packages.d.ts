// The reference packages bring no types of their own; only what the tests use is declared.
declare module 'slip' {
	const slip: {encode(data: Uint8Array): Uint8Array};
	export default slip;
}
declare module 'cobs' {
	const cobs: {decode(data: Buffer): Buffer};
	export default cobs;
}
declare module 'polycrc' {
	export function crc(
		width: number,
		polynomial: number,
		start: number,
		exclusiveOr: number,
		reflected: boolean,
	): (data: Buffer) => number;
}
