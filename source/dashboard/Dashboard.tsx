import {Panels} from './Panels.tsx';
import {type ScreenInput, screenPart} from './screen-part.ts';

/** The whole screen. */
export function Dashboard(props: ScreenInput) {
	return <Panels part={screenPart(props)} look={props.look} />;
}
