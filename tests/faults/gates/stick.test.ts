import {expect, test} from 'vitest';
import {ask} from '../../../source/faults/ask.ts';
import type {Fault} from '../../../source/faults/fault.ts';
import {isStick} from '../../../source/faults/gates/stick.ts';
import {findFault} from '../../../source/faults/registry.ts';
import {held} from '../../gloves/draw.ts';
import {featuresOver} from '../../gloves/features-over.ts';

// What an axis with an open pin does is no deflection, and where one axis learns its range neither is judged (check-values D5.2, D5.3).

const names = ['thumb', 'index', 'middle', 'ring', 'little', 'stick-x', 'stick-y'];
const [x, y] = [5, 6];
const fault: Fault = {
	...findFault('stick-off-centre')!,
	ways: [{name: 'only', limits: {}, gates: [isStick], sign: () => ({from: 0, summary: '', evidence: {}})}],
};

test.each<[string, {readonly open?: readonly number[]; readonly learning?: readonly number[]}, boolean]>([
	['both wired', {}, true],
	['open x', {open: [x]}, false],
	['open y', {open: [y]}, false],
	['x that learns', {learning: [x]}, false],
	['y that learns', {learning: [y]}, false],
	['a finger that is open and learns', {open: [0], learning: [0]}, true],
])('a stick is judged only where both of its axes can be: %s', (_title, {open = [], learning = []}, judged) => {
	const features = featuresOver({channels: Object.fromEntries(names.map(name => [name, held(50)])), seconds: 1});
	for (const a of open) features.open[a] = 1;
	for (const a of learning) features.learning[a] = 1;
	for (const axis of [x, y]) expect(ask(fault, features, axis, false).state).toBe(judged ? 'raised' : 'absent');
	expect(ask(fault, features, 0, false).state).toBe('absent');
});
