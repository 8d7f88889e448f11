import type {GlovePicture} from '../../source/dashboard/glove-picture.ts';
import {makeLook} from '../../source/screen/look.ts';
import {Session} from '../../source/session/session.ts';
import type {ChannelView, Finding, Snapshot} from '../../source/session/snapshot.ts';
import {floatingRing, type PlayGlove, playGlove} from './play-glove.ts';

export const plainLook = makeLook({ascii: false, colorDepth: 1});
export const asciiLook = makeLook({ascii: true, colorDepth: 1});
export const {glyphs} = plainLook;

/** A real session after so many seconds of a play glove. */
export function sessionAfter(seconds: number, glove: PlayGlove = floatingRing): Session {
	const session = new Session({timing: 'measured', baud: 115200});
	for (const item of playGlove({...glove, seconds})) session.push(item);
	return session;
}

/** A healthy hand of 12 s, taken once. */
export const healthy: Snapshot = sessionAfter(12, {...floatingRing, finger: () => undefined}).snapshot();

/** With the ring finger's wiper open since 12 s. */
export const faulty: Snapshot = sessionAfter(24).snapshot();

export function channelNamed(snapshot: Snapshot, name: string): ChannelView {
	const channel = snapshot.channels.find(each => each.name === name);
	if (!channel) throw new Error(`no channel ${name}`);
	return channel;
}

/** The snapshot with some fields of one channel replaced. */
export function withChannel(snapshot: Snapshot, name: string, fields: Partial<ChannelView>): Snapshot {
	return {
		...snapshot,
		channels: snapshot.channels.map(channel => (channel.name === name ? {...channel, ...fields} : channel)),
	};
}

export function makeFinding(fields: Partial<Finding> = {}): Finding {
	const from = fields.from ?? 10;
	return {
		code: 'floating-input',
		channel: 'ring',
		status: 'failure',
		first: false,
		from,
		flaggedAt: from + 2,
		to: null,
		confidence: 0.9,
		summary: 'ring wanders by 4 % FS rms.',
		evidence: {rmsPercentFs: 4},
		advice: ['Volts from the input pin to ground.', 'Volts at the middle lug.'],
		cautions: ['Unplug USB and battery first.'],
		spans: [[from, fields.to ?? null]],
		mended: false,
		...fields,
	};
}

export function makePicture(snapshot: Snapshot, fields: Partial<GlovePicture> = {}): GlovePicture {
	return {
		name: '/dev/ttyUSB0',
		kind: 'serial',
		baud: 115200,
		live: snapshot,
		steady: snapshot,
		silentFor: 0,
		lostFor: null,
		lateBy: null,
		recording: null,
		pulled: null,
		guide: null,
		position: null,
		trend: null,
		freezeFrame: null,
		over: null,
		notice: null,
		...fields,
	};
}
