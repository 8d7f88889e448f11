import type {Desk} from './desk.ts';

/** Reading ahead takes a slice of so many milliseconds at a time, so that keys and pictures never wait for it. */
const sliceMs = 12;

/** Reads replays ahead of what is shown until they are read whole. Gives what ends it before; `fail` is told of a defect. */
export function keepReading(desk: Pick<Desk, 'readAhead'>, fail: (error: unknown) => void): () => void {
	let slice: NodeJS.Timeout | undefined;
	const read = () => {
		try {
			if (desk.readAhead(sliceMs)) slice = setTimeout(read, 1);
		} catch (error) {
			fail(error);
		}
	};
	read();
	return () => clearTimeout(slice);
}
