import type {FaultModel} from '../fault-model.ts';

/** What the user declares is not what the board has. */
export const wrongFullScale: FaultModel = {
	code: 'wrong-full-scale',
	scope: 'link',
	variants: ['declared'],
	install(rig, fault) {
		const {random, severity} = fault;
		const {kind, outputFullScale} = rig.glove.firmware;
		const counts = kind !== 'percent' && kind !== 'mv';
		const ends = rig.channels.flatMap(channel =>
			channel.finger
				? [channel.idealOutput(0), channel.idealOutput(rig.glove.hand.depth - rig.glove.hand.depthSpread)]
				: [],
		);
		const names = rig.channels.map(({name}) => name);
		const may = names.map(channel => ({code: 'clipped-range', channel}));
		if (severity <= -1) {
			rig.declared.fullScale = outputFullScale;
			return {must: counts};
		}
		if (outputFullScale <= 1023) {
			// Ten bits taken for twelve: nothing above 1023, and at least three fingers must have been near it.
			rig.declared.fullScale = 4095;
			return {must: counts && outputFullScale === 1023 && ends.filter(end => end >= 1005).length >= 3, may};
		}
		if (outputFullScale === 4095 && random.chance(0.4)) {
			// The program keeps to ten bits on a twelve-bit board.
			rig.declared.fullScale = 4095;
			for (const channel of rig.channels) channel.output.push((_, sent) => Math.min(1023, sent));
			return {must: counts && ends.filter(end => end > 1200).length >= 2, may};
		}
		const declared = outputFullScale > 4095 ? random.pick([1023, 4095]) : 1023;
		rig.declared.fullScale = declared;
		return {must: counts && Math.max(...ends) > declared * 1.1, may};
	},
};
