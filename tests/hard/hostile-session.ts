import {expect} from 'vitest';
import {Session} from '../../source/session/session.ts';

/** The stream as it would come at 20 kB/s. */
export function play(bytes: Uint8Array, chunkBytes = 500): Session {
	const session = new Session({timing: 'measured', baud: 115_200});
	for (let at = 0; at < bytes.length; at += chunkBytes)
		session.push({t: at / 20_000, bytes: bytes.subarray(at, at + chunkBytes)});
	session.end();
	return session;
}

/** What a session may hold at most, whatever came. */
export function expectBounded(session: Session): void {
	const snapshot = session.snapshot();
	expect(snapshot.findings.length).toBeLessThanOrEqual(1000);
	for (const finding of snapshot.findings) {
		expect(finding.spans.length).toBeLessThanOrEqual(1000);
		expect(JSON.stringify({...finding, spans: []}).length).toBeLessThan(10_000);
	}

	expect(session.events.length).toBeLessThanOrEqual(10_000);
	expect(session.marks.length).toBeLessThanOrEqual(10_000);
	expect(snapshot.link.lastBadLine?.length ?? 0).toBeLessThanOrEqual(700);
}
