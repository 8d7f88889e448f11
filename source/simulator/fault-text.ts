import {CannotError} from '../cannot-error.ts';
import {closestNames} from '../text/closest-names.ts';
import {parseDuration} from '../text/parse-duration.ts';
import type {FaultModel, FaultSpec} from './fault-model.ts';
import {faultModels} from './faults/catalogue.ts';
import {analogNames, type GloveSpec} from './glove.ts';

const shape = 'code[/cause][:channel][@from[-to]][*severity], e.g. dropout:ring@5s-20s*0.8';

/** Channels of this glove that a fault of this scope can sit on. */
function channelsFor(code: string, glove: GloveSpec): string[] {
	const {scope} = faultModels.get(code)!;
	const names = analogNames(glove);
	switch (scope) {
		case 'finger':
			return glove.fingers.map(({name}) => name);
		case 'stick':
			return names.filter(name => name.startsWith('stick-'));
		case 'analog':
			return code === 'crosstalk' ? names.slice(1) : names;
		case 'button':
			return Array.from({length: glove.buttons.count}, (_, i) => `button-${i + 1}`);
		default:
			return [];
	}
}

/** Where a fault goes when no channel is named: the first of the other group for crosstalk, the ring finger, else the last. */
function usualChannel(code: string, channels: readonly string[], glove: GloveSpec): string {
	if (code === 'crosstalk')
		return (glove.stickFirst ? glove.fingers[0].name : channels.find(name => name === 'stick-x')) ?? channels[0];
	return channels.includes('ring') ? 'ring' : channels[0];
}

/**
 * Reads one `--fault`: `code[/cause][:channel][@from[-to]][*severity]`. Without a cause one is drawn.
 *
 * @throws {CannotError} for a code, channel, time or severity that cannot be
 */
export function parseFault(text: string, glove: GloveSpec): FaultSpec {
	const match =
		/^([a-z0-9-]+)(?:\/([a-z0-9-]+))?(?::([a-z0-9-]+))?(?:@([0-9.a-z]+)(?:-([0-9.a-z]+))?)?(?:\*(-?[0-9.]+))?$/i.exec(
			text.trim(),
		);
	if (!match) throw new CannotError(`--fault must not be "${text}": it takes ${shape}.`);
	const [, code, variant, channelText, fromText, toText, severityText] = match;
	const {scope} = modelFor(code, variant);
	const channel = channelFor(code, scope, channelText, glove);
	const from = fromText === undefined ? undefined : secondsOf(fromText, code);
	const to = toText === undefined ? undefined : secondsOf(toText, code);
	if (to !== undefined && from !== undefined && to <= from) {
		throw new CannotError(`--fault ${code} must not end before it begins: ${fromText}-${toText}.`);
	}
	const severity = severityText === undefined ? undefined : severityOf(severityText, code);
	return {
		code,
		channel,
		...(variant === undefined ? {} : {variant}),
		...(from === undefined ? {} : {from}),
		...(to === undefined ? {} : {to}),
		...(severity === undefined ? {} : {severity}),
	};
}

/** Throws `CannotError` for a code that there is not, or a cause that it does not have. */
function modelFor(code: string, variant: string | undefined): FaultModel {
	const model = faultModels.get(code);
	if (model === undefined) {
		const near = closestNames(code, [...faultModels.keys()]);
		const hint = near.length > 0 ? `Did you mean ${near.join(' or ')}?` : 'glovebench explain lists the codes.';
		throw new CannotError(`--fault does not know "${code}". ${hint}`);
	}
	if (variant !== undefined && !model.variants.includes(variant)) {
		throw new CannotError(`--fault ${code} has no cause "${variant}": it takes ${model.variants.join(', ')}.`);
	}
	return model;
}

/** The channel that was asked for, else the usual one; null for a fault of the link. Throws `CannotError` for one it cannot sit on. */
function channelFor(
	code: string,
	scope: FaultModel['scope'],
	asked: string | undefined,
	glove: GloveSpec,
): string | null {
	if (scope === 'link') {
		if (asked === undefined) return null;
		throw new CannotError(`--fault ${code} belongs to the whole glove or its link: leave out ":${asked}".`);
	}
	const channels = channelsFor(code, glove);
	if (channels.length === 0) {
		throw new CannotError(`--fault ${code} needs a ${scope} and this glove has none: name one in --layout.`);
	}
	if (asked !== undefined && !channels.includes(asked)) {
		throw new CannotError(`--fault ${code} cannot sit on "${asked}": it takes ${channels.join(', ')}.`);
	}
	return asked ?? usualChannel(code, channels, glove);
}

function secondsOf(text: string, code: string): number {
	return /^[0-9.]+$/.test(text) ? Number(text) : parseDuration(text, `--fault ${code}@`);
}

function severityOf(text: string, code: string): number {
	const severity = Number(text);
	if (severity >= -1 && severity <= 3) return severity;
	throw new CannotError(
		`--fault ${code} takes a severity from -1 (just healthy) over 0 (just faulty) to 3, not ${text}.`,
	);
}
