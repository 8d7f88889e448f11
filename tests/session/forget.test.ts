import {describe, expect, it} from 'vitest';
import {Session} from '../../source/session/session.ts';
import {BenchFeeder} from '../gloves/bench-feeder.ts';

/** A bench that is fed to a session as the deeds come. */
function bench() {
	const feeder = new BenchFeeder();
	const session = new Session({timing: 'measured', fullScale: 1023});
	const encoder = new TextEncoder();
	let frames = 0;
	const pass = (seconds: number) => {
		for (let end = frames + seconds * feeder.rate; frames < end; frames++)
			session.push({t: frames / feeder.rate, bytes: encoder.encode(feeder.next())});
		session.advance(frames / feeder.rate);
	};
	pass(3);
	for (const cord of [0, 1, 2]) feeder.pull(cord, 3);
	feeder.press(0, 2);
	pass(16);
	const stateOf = (name: string) => session.snapshot().channels.find(channel => channel.name === name)!;
	return {feeder, session, pass, stateOf};
}

describe('forgetting', () => {
	it('of one channel takes its range, proof and pulls, and leaves the others', () => {
		const {feeder, session, pass, stateOf} = bench();
		expect(['thumb', 'index', 'button-1'].map(name => stateOf(name).state)).toEqual(['proven', 'proven', 'proven']);
		session.push({t: session.t, event: 'forgotten', detail: 'index'});
		pass(1);
		expect(stateOf('index')).toMatchObject({state: 'waiting', pulls: {seen: 0, needed: 2}, movedItselfAt: null});
		expect(stateOf('index').max - stateOf('index').min).toBeLessThan(10);
		expect(['thumb', 'middle', 'button-1'].map(name => stateOf(name).state)).toEqual(['proven', 'proven', 'proven']);
		// It is proven again by what it does from then on.
		feeder.pull(1, 2);
		pass(4);
		expect(stateOf('index')).toMatchObject({state: 'proven', pulls: {seen: 2, needed: 2}});
	});

	it('of a button takes its presses', () => {
		const {session, pass, stateOf} = bench();
		session.forget('button-1');
		pass(0.5);
		expect(stateOf('button-1').button?.presses).toBe(0);
		expect(stateOf('button-1').state).not.toBe('proven');
	});

	it('of all begins anew, and finds the same again', () => {
		const {feeder, session, pass, stateOf} = bench();
		session.push({t: session.t, event: 'forgotten'});
		pass(1);
		for (const name of ['thumb', 'index', 'middle', 'button-1']) expect(stateOf(name).state).not.toBe('proven');
		feeder.pull(0, 3);
		pass(6);
		expect(stateOf('thumb').state).toBe('proven');
	});

	it('of a channel that is not there changes nothing', () => {
		const {session, stateOf} = bench();
		session.push({t: session.t, event: 'forgotten', detail: '\u001B[2Jnobody'});
		expect(stateOf('index').state).toBe('proven');
	});
});
