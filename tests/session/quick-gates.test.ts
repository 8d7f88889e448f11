import {PassThrough} from 'node:stream';
import {describe, expect, test} from 'vitest';
import {openNamedSource} from '../../source/command-line/source-options.ts';
import type {Features} from '../../source/features/features.ts';
import {questionsOf} from '../../source/session/places.ts';
import {runSession} from '../../source/session/run-session.ts';

const root = new URL('../../', import.meta.url).pathname;

/** Quick answers first: what was worked out would be at hand. */
const shares = [3, 1, 0.3];

/** Of all gates that can say so without their figure: what they say, and what the figure itself says. */
function* answersOf(
	features: Features,
): Generator<{readonly gate: string; readonly quick: boolean; readonly full: boolean}> {
	for (const {fault, place} of questionsOf(features))
		for (const {gates, limits} of fault.ways)
			for (const gate of gates) {
				if ((gate.kind !== 'at least' && gate.kind !== 'at most') || gate.isBeyond === undefined) continue;
				const raises = shares.map(share => share * limits[gate.name].raise);
				const quick = raises.map(raise => gate.isBeyond?.(features, place, raise) === true);
				const saw = gate.saw(features, place);
				for (const [i, raise] of raises.entries()) {
					const full = saw !== undefined && (gate.kind === 'at most' ? saw <= raise : saw >= raise);
					yield {gate: `${fault.code} ${gate.name}`, quick: quick[i], full};
				}
			}
}

describe('a gate that says without its figure whether it is beyond the limit says what the figure says', () => {
	test('of samples, every two seconds, at its limit and well beside it', async () => {
		const said = new Map<string, Set<boolean>>();
		for (const name of ['baseline-drift', 'broken-frames', 'shared-ceiling', 'floating-input', 'healthy']) {
			const {signal} = new AbortController();
			const {source, session} = await openNamedSource(
				`${root}recordings/${name}.gbrec`,
				{},
				{stdin: new PassThrough(), signal},
			);
			let next = 2;
			await runSession(source, {
				session,
				watch: ({t, features}) => {
					if (t < next) return;
					next = t + 2;
					for (const {gate, quick, full} of answersOf(features)) {
						expect(quick, `${gate} in ${name} at ${t} s`).toBe(full);
						said.set(gate, (said.get(gate) ?? new Set()).add(full));
					}
				},
			});
		}
		// Each has said both.
		expect([...said].map(([gate, answers]) => `${gate}: ${answers.size}`).sort()).toEqual([
			'backlash most: 2',
			'backlash play: 2',
			'baseline-drift change: 2',
			'broken-frames share: 2',
			'floating-input left: 2',
			'floating-input noise: 2',
			'narrow-span ratio: 2',
			'reversed-sensor span: 2',
			'shared-ceiling fingers: 2',
			'stick-off-centre off: 2',
		]);
	});
});
