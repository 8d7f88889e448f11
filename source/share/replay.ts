import {Session} from '../session/session.ts';
import type {SessionOptions} from '../session/session-options.ts';
import type {Finding} from '../session/snapshot.ts';
import type {SourceItem} from '../stream/source-item.ts';

/** The findings of items that are in memory. `endsAt`: seconds at which the stream ends. */
export function replayItems(
	items: Iterable<SourceItem>,
	options: SessionOptions,
	endsAt: number | undefined,
): readonly Finding[] {
	const session = new Session(options);
	for (const item of items) session.push(item);
	session.end(endsAt);
	return session.findings;
}
