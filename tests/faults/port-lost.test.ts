import {expect, test} from 'vitest';
import {answer, frames, type Heard} from '../gloves/heard.ts';

// Check-values D5.4, port-lost: the event, and no other.

const lost: Heard = {t: 3.1, event: 'port-lost', detail: 'unplugged'};

test('is raised by the event, from its time on', () => {
	expect(answer('port-lost', [...frames(0, 3, 100), lost], {until: 60}).sign).toMatchObject({
		from: 3.1,
		flaggedAt: 3.1,
		evidence: {detail: 'unplugged'},
	});
});

test('is over when the port is back, told once more with both its ends', () => {
	const heard: Heard[] = [...frames(0, 3, 100), lost, {t: 9.3, event: 'reattached'}];
	expect(answer('port-lost', heard, {until: 9.5}).sign).toMatchObject({from: 3.1, to: 9.3});
	expect(answer('port-lost', heard, {until: 12}).state).toBe('clear');
});

test('is silent without one, and does not apply to a log, which cannot tell', () => {
	expect(answer('port-lost', frames(0, 3, 100), {until: 60}).state).toBe('clear');
	expect(answer('port-lost', frames(0, 3, 100), {timing: 'column', until: 60}).state).toBe('absent');
});
