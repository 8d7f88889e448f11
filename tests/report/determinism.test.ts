import {expect, it} from 'vitest';
import {digestsIn} from './digests-in.ts';

it('reports are the same, byte for byte, in another time zone and locale, and however the bytes were cut', async () => {
	const names = ['device-restart'];
	const [plain, other] = await Promise.all([
		digestsIn(names, {TZ: 'UTC', LC_ALL: 'C'}),
		digestsIn(names, {TZ: 'Asia/Kathmandu', LC_ALL: 'ar_EG.UTF-8'}, 100),
	]);
	expect(plain.digests.length).toBeGreaterThan(3);
	expect(new Set(plain.digests.map(line => line.slice(0, 64))).size).toBeGreaterThan(3);
	expect(other.surroundings).not.toBe(plain.surroundings);
	expect(other.digests).toEqual(plain.digests);
});
