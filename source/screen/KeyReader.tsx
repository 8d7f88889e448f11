import {type Key, useInput} from 'ink';
import {useCallback} from 'react';
import {keyNames} from './key-name.ts';

/** Hands every key on by its name. Draws nothing. */
export function KeyReader({onKey}: {readonly onKey: (name: string) => void}) {
	useInput(
		useCallback(
			(input: string, key: Key) => {
				for (const name of keyNames(input, key)) onKey(name);
			},
			[onKey],
		),
	);
	return null;
}
