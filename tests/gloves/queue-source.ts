import type {ItemQueue} from '../../source/sources/item-queue.ts';
import type {Source} from '../../source/stream/source.ts';
import {memorySource} from './memory-source.ts';

/** A live source that is fed by the test, by the test's clock. */
export const queueSource = (queue: ItemQueue, now: () => number): Source => ({
	...memorySource([]),
	now,
	batches: () => queue.batches(),
});
