import {describe, expect, it} from 'vitest';
import {portsCommand} from '../../source/commands/ports.ts';
import type {PortDescription} from '../../source/sources/port-list.ts';

const run = async (ports: readonly PortDescription[], json = false) => {
	const said = {stdout: '', stderr: ''};
	const status = await portsCommand(
		{json},
		{
			stdout: {write: (text: string) => Boolean((said.stdout += text))},
			stderr: {write: (text: string) => Boolean((said.stderr += text))},
		},
		async () => ports,
	);
	return {status, ...said};
};

const bridge: PortDescription = {
	path: '/dev/ttyUSB0',
	maker: 'Puppet Supplies',
	vendorId: '1a86',
	productId: '7523',
	serialNumber: 'A50285BI',
	likelyChip: 'WCH CH340',
	problem: null,
};

const unknown: PortDescription = {
	path: '/dev/ttyS0',
	maker: null,
	vendorId: null,
	productId: null,
	serialNumber: null,
	likelyChip: null,
	problem: 'in use by monitor (process 42)',
};

describe('ports', () => {
	it('lists what is known of each port, and why one cannot be opened', async () => {
		expect(await run([bridge, unknown])).toEqual({
			status: 0,
			stderr: '',
			stdout: [
				'Port          USB id     Maker            Likely chip  Serial number',
				'/dev/ttyUSB0  1a86:7523  Puppet Supplies  WCH CH340    A50285BI',
				'/dev/ttyS0    -          -                -            -',
				'  cannot be opened: in use by monitor (process 42)',
				'',
			].join('\n'),
		});
	});

	it('prints all of it as JSON', async () => {
		const {status, stdout} = await run([bridge, unknown], true);
		expect(status).toBe(0);
		expect(JSON.parse(stdout)).toMatchObject({schema: 1, kind: 'ports', ports: [bridge, unknown]});
		expect(JSON.parse((await run([], true)).stdout).ports).toEqual([]);
	});

	it('says on stderr that there is none', async () => {
		const {status, stdout, stderr} = await run([]);
		expect([status, stdout]).toEqual([0, '']);
		expect(stderr).toMatch(/^No serial port found\. .*\n$/);
	});

	it('shows a name from the device without letting it at the terminal', async () => {
		const hostile = {...bridge, maker: '\u001B[2J\u0007evil\u202E', serialNumber: 'x'.repeat(500)};
		const {stdout} = await run([hostile]);
		expect(stdout).toMatch(/\\x1b\[2J\\x07evil\\u\{202e\}/);
		expect(stdout).not.toMatch(/[\u0000-\u0009\u000B-\u001F\u007F-\u009F\u202E]/);
		expect(Math.max(...stdout.split('\n').map(line => line.length))).toBeLessThan(140);
	});

	it('prints JSON that cannot reach the terminal either', async () => {
		const {stdout} = await run([{...bridge, maker: '\u001B[2J\u009B\u007F'}], true);
		expect(stdout).not.toMatch(/[\u0000-\u0009\u000B-\u001F\u007F-\u009F]/);
		expect(JSON.parse(stdout).ports[0].maker).toBe('\u001B[2J\u009B\u007F');
	});
});
