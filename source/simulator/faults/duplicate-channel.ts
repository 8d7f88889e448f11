import type {FaultModel} from '../fault-model.ts';

/** The program reads one pin twice, or two wipers touch. */
export const duplicateChannel: FaultModel = {
	code: 'duplicate-channel',
	scope: 'finger',
	variants: ['read-twice', 'touching'],
	install(rig, fault) {
		const {random, severity, window, index, variant} = fault;
		// The copy is the later of the two in the scan.
		const before = index > 0 && rig.channels[index - 1].finger ? index - 1 : index + 1;
		const first = Math.min(before, index);
		const second = Math.max(before, index);
		const [source, copy] = [rig.channels[first], rig.channels[second]];
		const alternatives = [rig.channels[before].name];
		const must = variant === 'read-twice' && rig.spanShare(first) * source.gain >= 0.22;
		if (severity <= -1) return {must, alternatives};
		if (variant === 'read-twice') {
			copy.output.push((t, sent) => (window.has(t) ? rig.sent[first] : sent));
		} else {
			const weight = random.uniform(0.35, 0.65);
			const joined = (t: number, volts: number): number =>
				window.has(t) ? weight * rig.pins[first] + (1 - weight) * rig.pins[second] : volts;
			source.volts.push(joined);
			copy.volts.push(joined);
		}
		return {
			must,
			alternatives,
			may: [source.name, copy.name].flatMap(channel =>
				['crosstalk', 'floating-input', 'narrow-span'].map(code => ({code, channel})),
			),
		};
	},
};
