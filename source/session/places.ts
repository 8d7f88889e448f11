import type {Fault} from '../faults/fault.ts';
import type {Features} from '../features/features.ts';

/** A place a check is asked about, and the name of its channel; null where the link or all channels are meant. */
export type Place = {readonly place: number; readonly channel: string | null};

/** All places a check is asked about under the layout of these features, in scan order. */
export function placesOf({scope}: Pick<Fault, 'scope'>, features: Features): Place[] {
	const {layout, analog, buttons} = features;
	if (scope === 'link') return [{place: 0, channel: null}];
	if (scope === 'button') return buttons.map(({column}, place) => ({place, channel: layout.channels[column].name}));
	return analog.columns
		.map((column, place) => ({place, channel: layout.channels[column].name, role: layout.channels[column].role}))
		.filter(({role}) => scope === 'analog' || role === scope);
}
