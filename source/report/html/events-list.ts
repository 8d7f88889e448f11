import type {Snapshot} from '../../session/snapshot.ts';
import {secondsText} from '../../text/number-text.ts';
import {html, type Markup} from './markup.ts';

/** Marks and events of a session in their order; nothing where there were none. */
export function eventsList({events, marks}: Pick<Snapshot, 'events' | 'marks'>): Markup | null {
	const rows = [
		...events.map(({t, event, detail}) => ({t, text: detail ? `${event}: ${detail}` : event})),
		...marks.map(({t, mark}) => ({t, text: `mark: ${mark}`})),
	].sort((a, b) => a.t - b.t);
	return rows.length > 0 ? html`<ul>${rows.map(({t, text}) => html`<li>${secondsText(t)}: ${text}</li>`)}</ul>` : null;
}
