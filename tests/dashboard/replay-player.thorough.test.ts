import {expect, it, vi} from 'vitest';
import {ItemTape} from '../../source/dashboard/item-tape.ts';
import {ReplayPlayer} from '../../source/dashboard/replay-player.ts';
import {Session} from '../../source/session/session.ts';
import {playGlove} from './play-glove.ts';

const options = {timing: 'measured', baud: 115200} as const;
/** A clock that stands still: nothing ever takes long, however busy the machine is. */
const stopwatch = () => 0;

// Twelve minutes stand for an hour: its checkpoints are 5 s apart instead of 20. What a seek costs is what it plays over
// (`npm run bench -- seek` tells in milliseconds); counted, so that a busy machine changes nothing.
it('plays over no more than lies between two checkpoints, wherever it goes in a long recording', () => {
	const all = playGlove({seconds: 720});
	const long = new ReplayPlayer(ItemTape.of(all), options);
	while (long.readAhead(100, stopwatch));
	const most = Math.ceil((5 * all.length) / 720) + 1;
	const push = vi.spyOn(Session.prototype, 'push');
	const played = Array.from({length: 15}, (_, index) => {
		push.mockClear();
		long.seek((719 * ((index * 7) % 15)) / 15);
		return push.mock.calls.length;
	});
	push.mockRestore();
	expect(Math.max(...played)).toBeLessThanOrEqual(most);
	expect(Math.max(...played)).toBeGreaterThan(0);
});
