import {access, constants, readdir, readFile, readlink, realpath, stat} from 'node:fs/promises';
import {basename, join} from 'node:path';

/** A program that has a port open. */
export type PortHolder = {readonly pid: number; readonly program: string};

/**
 * What to tell someone who may not open a device: which group really owns the file, read from the file itself and from
 * the group list, since it is called differently from one distribution to the next.
 *
 * @param root Where `/etc/group` is looked for; for tests.
 * @returns The end of a sentence, with what to try.
 */
export async function explainPermission(path: string, root = '/'): Promise<string> {
	let gid: number;
	let mode: number;
	try {
		({gid, mode} = await stat(path));
	} catch {
		return 'permission denied, and its owner cannot be told. Ask whoever looks after this computer.';
	}

	const groups = await readGroups(root);
	const group = groups.find(entry => entry.gid === gid);
	const name = group?.name ?? `number ${gid}`;
	// Membership of root's own group would open far more than a port.
	if (gid === 0 || (mode & 0o060) !== 0o060) {
		return `permission denied: it is open to root alone (group ${name}, mode ${(mode & 0o777).toString(8)}). Unplug the adapter and plug it in again; if it stays so, write ${udevRule(path, serialGroup(groups))} into /etc/udev/rules.d/60-glove.rules, run \`sudo udevadm control --reload && sudo udevadm trigger\` and \`sudo usermod -aG ${serialGroup(groups)} $USER\`, then log out and in again.`;
	}

	return `permission denied: it belongs to the group ${name}. Run \`sudo usermod -aG ${name} $USER\`, then log out and in again; if you have just done that, only logging in again is missing.`;
}

/** Groups that own serial ports, by distribution (systemd's 50-udev-default.rules has dialout; others call it uucp). */
const serialGroups = ['dialout', 'uucp', 'uucplock', 'tty'];

function serialGroup(groups: readonly {readonly name: string}[]): string {
	return serialGroups.find(name => groups.some(group => group.name === name)) ?? serialGroups[0];
}

/** A rule that gives ports of this one's kind to a group (udev(7): keys, operators, one rule a line). */
function udevRule(path: string, group: string): string {
	const kind = basename(path).replace(/\d+$/, '*');
	return `SUBSYSTEM=="tty", KERNEL=="${kind}", GROUP="${group}", MODE="0660"`;
}

async function readGroups(root: string): Promise<{name: string; gid: number}[]> {
	const text = await readFile(join(root, 'etc/group'), 'utf8').catch(() => '');
	return text
		.split('\n')
		.map(line => line.split(':'))
		.filter(fields => fields.length >= 3)
		.map(([name = '', , gid]) => ({name, gid: Number(gid)}));
}

/**
 * Which programs have these devices open, as far as the process list may be read: of other users' programs nothing is
 * seen. Linux only; elsewhere nobody.
 */
export async function findPortHolders(paths: readonly string[], root = '/'): Promise<Map<string, PortHolder>> {
	const holders = new Map<string, PortHolder>();
	if (paths.length === 0) return holders;
	const wanted = new Set(paths);
	const processes = join(root, 'proc');
	const names = await readdir(processes).catch(() => []);
	await Promise.all(
		names
			.filter(name => /^\d+$/.test(name) && Number(name) !== process.pid)
			.map(async pid => {
				const descriptors = await readdir(join(processes, pid, 'fd')).catch(() => []);
				for (const descriptor of descriptors) {
					const target = await readlink(join(processes, pid, 'fd', descriptor)).catch(() => '');
					if (!wanted.has(target) || holders.has(target)) continue;
					const program = await readFile(join(processes, pid, 'comm'), 'utf8').catch(() => 'a program');
					holders.set(target, {pid: Number(pid), program: program.trim()});
				}
			}),
	);
	return holders;
}

/** The program that has a port open, by any of the port's names; undefined for none, or none that may be seen. */
export async function findPortHolder(path: string, root = '/'): Promise<PortHolder | undefined> {
	// Programs hold the device itself, whatever link led to it.
	const device = await realpath(path).catch(() => path);
	return (await findPortHolders([device], root)).get(device);
}

/** Why a device cannot be opened by us, as far as can be told without opening it; null if nothing speaks against it. */
export async function portProblem(path: string, holder: PortHolder | undefined, root = '/'): Promise<string | null> {
	const real = join(root, path);
	try {
		await access(real, constants.R_OK | constants.W_OK);
	} catch (error) {
		const {code} = error as NodeJS.ErrnoException;
		if (code === 'ENOENT') return 'its device file is missing (inside a container, pass the device in)';
		if (code === 'EACCES' || code === 'EPERM') return explainPermission(real, root);
		return `cannot be looked at (${code})`;
	}

	return holder ? `in use by ${holder.program} (process ${holder.pid})` : null;
}
