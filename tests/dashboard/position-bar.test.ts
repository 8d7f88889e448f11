import {describe, expect, it} from 'vitest';
import {type Position, positionRow} from '../../source/dashboard/position-bar.ts';
import {rowText} from '../../source/screen/rows.ts';
import {asciiLook} from './sample-picture.ts';

const position: Position = {
	t: 0,
	duration: 100,
	playing: true,
	speed: 1,
	loop: false,
	readTo: 100,
	findings: [],
	marks: [],
};
const text = (fields: Partial<Position>) => rowText(positionRow({...position, ...fields}, 60, asciiLook.glyphs));

describe('positionRow', () => {
	it('has the width it was asked for', () => {
		for (const t of [0, 33.3, 100]) expect(text({t})).toHaveLength(60);
	});

	it('shows where the replay is between its ends', () => {
		expect(text({t: 0})).toMatch(/0:00\.0 \|-+ 1:40\.0 $/);
		expect(text({t: 100})).toMatch(/1:40\.0 -+\| 1:40\.0 $/);
	});

	it('shows findings and marks where they are, and the part not read yet as dots', () => {
		const line = text({t: 10, findings: [50], marks: [75], readTo: 80});
		const ruler = /0:10\.0 (\S+) 1:40/.exec(line)![1];
		const place = (share: number) => Math.round(share * (ruler.length - 1));
		expect(ruler[place(0.1)]).toBe('|');
		expect(ruler[place(0.5)]).toBe('v');
		expect(ruler[place(0.75)]).toBe('*');
		expect(ruler.slice(place(0.8) + 1)).toMatch(/^\.+$/);
	});

	it('says in words whether it plays, how fast, and whether it will start again', () => {
		expect(text({playing: false, speed: 0.25, loop: true})).toContain('held 0.25x loop');
		expect(text({})).toContain('play 1x');
	});

	it('copes with a recording of no length', () => {
		expect(text({duration: 0, readTo: 0, findings: [0]})).toHaveLength(60);
	});
});
