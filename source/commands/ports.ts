import stringWidth from 'string-width';
import type {CommandIo} from '../command-line/command-io.ts';
import {listPorts, type PortDescription} from '../sources/port-list.ts';
import {escapeText} from '../text/escape-text.ts';
import {tool} from '../version.ts';

type PortsOptions = {
	readonly json?: boolean;
};

/**
 * `ports`: the serial ports with what is known of each, and why one cannot be opened.
 *
 * @param list Where the ports come from; for tests.
 * @returns Always 0: having no port is an answer.
 */
export async function portsCommand(
	{json}: PortsOptions,
	{
		stdout,
		stderr,
	}: {readonly stdout: Pick<CommandIo['stdout'], 'write'>; readonly stderr: Pick<CommandIo['stderr'], 'write'>},
	list: () => Promise<readonly PortDescription[]> = listPorts,
): Promise<number> {
	const ports = await list();
	if (json) {
		const {terminalSafeJson} = await import('../report/check-json.ts');
		stdout.write(
			`${terminalSafeJson({schema: 1, kind: 'ports', tool: {name: tool.name, version: tool.version}, ports}, 2)}\n`,
		);
		return 0;
	}

	if (ports.length === 0) {
		stderr.write(
			'No serial port found. Plug the glove in with a cable that carries data, or pair it, and run this again.\n',
		);
		return 0;
	}

	stdout.write(portTable(ports));
	return 0;
}

const columns: readonly (readonly [heading: string, cell: (port: PortDescription) => string])[] = [
	['Port', port => port.path],
	['USB id', port => (port.vendorId === null ? '-' : `${port.vendorId}:${port.productId ?? '????'}`)],
	['Maker', port => port.maker ?? '-'],
	['Likely chip', port => port.likelyChip ?? '-'],
	['Serial number', port => port.serialNumber ?? '-'],
];

/** One line per port, and beneath a port that cannot be opened a line that says why. */
function portTable(ports: readonly PortDescription[]): string {
	// Names come from the devices themselves.
	const rows = [
		columns.map(([heading]) => heading),
		...ports.map(port => columns.map(([, cell]) => escapeText(cell(port), 40))),
	];
	const widths = columns.map((_, column) => Math.max(...rows.map(row => stringWidth(row[column]!))));
	const lines = rows.flatMap((row, index) => {
		const cells = row.map((cell, column) => cell + ' '.repeat(widths[column]! - stringWidth(cell)));
		const problem = ports[index - 1]?.problem ?? null;
		return [cells.join('  ').trimEnd(), ...(problem === null ? [] : [`  cannot be opened: ${escapeText(problem)}`])];
	});
	return `${lines.join('\n')}\n`;
}
