import {expect, it} from 'vitest';
import {screenState} from '../../../source/bringup/view/screen-state.ts';
import {Session} from '../../../source/session/session.ts';

it('tells bytes without a frame among them from none at all, once a stream should be understood', () => {
	const session = new Session({timing: 'measured', layout: 'thumb,index,middle', fullScale: 1023});
	const bytes = new TextEncoder().encode('512,498\r\n');
	for (let i = 0; i < 20; i++) session.push({t: i / 10, bytes});
	expect(screenState('COM5', session, undefined)).toMatchObject({prompt: null, hint: null});
	session.advance(3.5);
	expect(screenState('COM5', session, undefined).hint).toBe(
		'180 bytes came, but no frame among them: q, then glovebench check tells why.',
	);
	const silent = new Session({timing: 'measured'});
	silent.advance(3.5);
	expect(screenState('COM5', silent, undefined).hint).toBeNull();
});
