import type {FaultModel} from '../fault-model.ts';

/** Only the bring-up routine can tell these: it knows what it asked for. */
const bringUpOnly = {must: false} as const;

/** Two fingers' wires on each other's pins. */
export const swappedChannels: FaultModel = {
	code: 'swapped-channels',
	scope: 'finger',
	variants: ['exchanged'],
	install(rig, fault) {
		const {index} = fault;
		const next = rig.channels[index + 1]?.finger ? index + 1 : index - 1;
		if (fault.severity > -1) [rig.wiring[index], rig.wiring[next]] = [rig.wiring[next], rig.wiring[index]];
		return {...bringUpOnly, alternatives: [rig.channels[next].name]};
	},
};

/** One stick axis with its supply and ground legs exchanged. */
export const stickReversed: FaultModel = {
	code: 'stick-reversed',
	scope: 'stick',
	variants: ['legs-exchanged'],
	install(rig, fault) {
		const {index, window, severity} = fault;
		rig.channels[index].volts.push((t, volts) => (severity > -1 && window.has(t) ? 1 - volts : volts));
		return bringUpOnly;
	},
};

/** The stick's two wipers on each other's pins. */
export const stickSwapped: FaultModel = {
	code: 'stick-swapped',
	scope: 'link',
	variants: ['exchanged'],
	install(rig, fault) {
		const x = rig.indexOf('stick-x');
		const y = rig.indexOf('stick-y');
		if (x < 0) throw new RangeError('stick-swapped needs a stick');
		if (fault.severity > -1) [rig.wiring[x], rig.wiring[y]] = [rig.wiring[y], rig.wiring[x]];
		return bringUpOnly;
	},
};
