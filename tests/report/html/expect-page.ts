import {expect} from 'vitest';

/** Expects that text of a device, however hostile, came to be nothing but text of a page. */
export function expectTextOnly(page: string): void {
	expect(page).not.toMatch(/<script|<img|@import "https/i);
	expect(page.match(/<style>/g)).toHaveLength(1);
	expect(page).not.toMatch(/[\u0000-\u0008\u000b\u000e-\u001f\u007f-\u009f\u202e]/);
}

/** Expects no figure that is none, and no more than half a megabyte. */
export function expectSound(page: string): void {
	expect(/NaN|undefined|Infinity|\[object|>null</.exec(page)).toBeNull();
	expect(Buffer.byteLength(page)).toBeLessThan(500_000);
}
