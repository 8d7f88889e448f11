import {useInput} from 'ink';
import {type BringUpMessage, messageOf} from './keys.ts';

/** Hands on what keys mean. Draws nothing. */
export function KeyInput({onMessage}: {readonly onMessage: (message: BringUpMessage) => void}) {
	useInput((input, key) => {
		const message = messageOf(input, key.ctrl);
		if (message) onMessage(message);
	});
	return null;
}
