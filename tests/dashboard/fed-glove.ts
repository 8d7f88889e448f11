import {LiveGlove} from '../../source/dashboard/live-glove.ts';
import {ItemQueue} from '../../source/sources/item-queue.ts';
import {memorySource} from '../gloves/memory-source.ts';

/** A live glove that is fed by the test, by the test's clock. */
export class FedGlove {
	readonly queue = new ItemQueue();
	now = 0;
	readonly glove = new LiveGlove(
		{
			...memorySource([]),
			now: () => this.now,
			batches: () => this.queue.batches(),
			close: async () => this.queue.end(),
		},
		{timing: 'measured', baud: null},
	);
}
