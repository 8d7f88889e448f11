import {spawnSync} from 'node:child_process';
import {cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import {afterEach, beforeEach, expect, it} from 'vitest';

const root = new URL('../../', import.meta.url).pathname;
let folder: string;

/** A source folder that holds two findings, the second listed after what is told, and a model of one. */
beforeEach(() => {
	folder = mkdtempSync(path.join(tmpdir(), 'lists-'));
	mkdirSync(path.join(folder, 'faults'));
	mkdirSync(path.join(folder, 'simulator/faults'), {recursive: true});
	cpSync(path.join(root, 'source/write-lists.mjs'), path.join(folder, 'write-lists.mjs'));
	finding('cord-off', 'cordOff', 'null');
	writeFileSync(path.join(folder, 'simulator/faults/cord-off.ts'), 'export const cordOff: FaultModel = {\n};\n');
});
afterEach(() => rmSync(folder, {recursive: true}));

function finding(code: string, name: string, listedAfter: string): void {
	const text = `export const ${name}: Fault<'${code}'> = {\n\tcode: '${code}',\n\tlistedAfter: ${listedAfter},\n};\n`;
	writeFileSync(path.join(folder, `faults/${code}.ts`), text);
}

const run = (script: string, ...args: string[]) => spawnSync(process.execPath, [script, ...args], {encoding: 'utf8'});
const writeLists = (...args: string[]) => run(path.join(folder, 'write-lists.mjs'), ...args);
const list = () => readFileSync(path.join(folder, 'faults/every-fault.ts'), 'utf8');

it('of findings and models are what the files make: npm run lists', () => {
	const {status, stderr} = run(path.join(root, 'source/write-lists.mjs'), '--check');
	expect(stderr).toBe('');
	expect(status).toBe(0);
});

it('take up a finding where it says that it stands, and tell of one that is missing', () => {
	finding('belt-off', 'beltOff', "'cord-off'");
	expect(writeLists().status).toBe(0);
	expect(list()).toMatch(/\[\n\tcordOff,\n\tbeltOff,\n\]/);
	expect(readFileSync(path.join(folder, 'simulator/faults/every-model.ts'), 'utf8')).toContain('\tcordOff,\n');
	expect(writeLists('--check').status).toBe(0);
	finding('wheel-off', 'wheelOff', "'belt-off'");
	expect(writeLists('--check')).toMatchObject({status: 1, stderr: expect.stringContaining('npm run lists')});
	expect(list()).not.toContain('wheelOff');
});

it('take in a finding between two others without a change to either', () => {
	finding('belt-off', 'beltOff', "'cord-off'");
	finding('axle-off', 'axleOff', "'belt-off'");
	finding('wheel-off', 'wheelOff', "'cord-off'");
	expect(writeLists().status).toBe(0);
	expect(list()).toMatch(/\[\n\tcordOff,\n\twheelOff,\n\tbeltOff,\n\taxleOff,\n\]/);
});

it('are refused where a finding comes after what is nowhere, or after itself', () => {
	finding('belt-off', 'beltOff', "'wheel-off'");
	expect(writeLists().stderr).toContain('listedAfter names nothing that is listed: belt-off (after wheel-off)');
	finding('belt-off', 'beltOff', "'belt-off'");
	expect(writeLists().stderr).toContain('listedAfter names nothing that is listed: belt-off (after belt-off)');
});
