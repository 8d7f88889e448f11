import type {Snapshot} from './snapshot.ts';

/** Whether what was read breaks off, or has parts that could not be read. */
export function isCut(events: Snapshot['events']): boolean {
	return events.some(({event}) => event === 'truncated');
}

/**
 * That a recording breaks off, in a sentence with the reason; empty where it is whole. `name` is the source's, which the
 * reason begins with and which is said elsewhere.
 */
export function cutText(events: Snapshot['events'], name: string): string {
	const cut = events.find(({event}) => event === 'truncated');
	if (cut === undefined) return '';
	const {detail = ''} = cut;
	const reason = detail.startsWith(`${name}: `) ? detail.slice(name.length + 2) : '';
	return reason === '' ? 'It is not whole: something is missing.' : `It is not whole: ${reason}`;
}
