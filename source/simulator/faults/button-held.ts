import type {FaultModel} from '../fault-model.ts';

/** Wired across the joined pair of legs, or jammed: pressed from the first frame (check-values B6). */
export const buttonHeld: FaultModel = {
	code: 'button-held',
	scope: 'button',
	variants: ['joined-legs'],
	install(rig, fault) {
		const {severity, window, index} = fault;
		rig.buttons[index].push((t, level) => (severity > -1 && window.has(t) ? 1 - rig.idleLevel : level));
		const seconds = Math.min(window.spans[0][1], rig.durationSeconds) - window.spans[0][0];
		// With no other button to compare with, nobody can tell which level means pressed.
		return {must: window.spans[0][0] === 0 && seconds >= 15.5 && rig.buttons.length >= 2};
	},
};
