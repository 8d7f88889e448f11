import manifest from '../../package.json' with {type: 'json'};

/** The oldest version that will do, such as 20.12: package.json says it to installers. */
const oldest = manifest.engines.node.replace(/^>=/, '');

/**
 * Why this version of Node will not do, as one line for the user; undefined where it will.
 *
 * @param version Such as 20.12.1; what follows the second number plays no part.
 */
export function whyTooOld(version: string): string | undefined {
	const [major, minor] = numbersOf(version);
	const [oldestMajor, oldestMinor] = numbersOf(oldest);
	if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return undefined;
	return `Node ${version} is too old, it takes ${oldest} or newer: install a newer Node, or put one that is there first on the PATH (\`node --version\` tells which is found).`;
}

function numbersOf(version: string): [major: number, minor: number] {
	const [major, minor] = version.split('.');
	return [Number(major), Number(minor)];
}
