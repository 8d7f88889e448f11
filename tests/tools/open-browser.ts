import {type ChildProcess, spawn} from 'node:child_process';
import {existsSync, mkdtempSync, rmSync} from 'node:fs';
import {tmpdir} from 'node:os';
import path from 'node:path';
import type {Readable, Writable} from 'node:stream';

export const browserPath = '/usr/bin/chromium';

/** Whether pages can be opened here. */
export const hasBrowser = existsSync(browserPath);

/** How a page is looked at. */
export type Look = {
	readonly widthPixels?: number;
	readonly heightPixels?: number;
	readonly scheme?: 'light' | 'dark';
	readonly isPhone?: boolean;
	/** As somebody sees it who sees no colour, or no difference of red and green. */
	readonly vision?: 'none' | 'achromatopsia' | 'deuteranopia';
};

type Message = {
	readonly id?: number;
	readonly method?: string;
	readonly sessionId?: string;
	readonly params?: Readonly<Record<string, unknown>>;
	readonly result?: Readonly<Record<string, unknown>>;
	readonly error?: {readonly message: string};
};

/**
 * A browser without a window, driven through the Chrome DevTools Protocol over a pipe: messages of JSON, each ended by
 * a zero byte, on the file descriptors 3 and 4.
 */
export class Browser {
	private readonly process: ChildProcess;
	private readonly folder: string;
	private readonly waiting = new Map<number, (message: Message) => void>();
	private readonly listeners = new Set<(message: Message) => void>();
	private pending = '';
	private lastId = 0;

	constructor() {
		this.folder = mkdtempSync(path.join(tmpdir(), 'glovebench-browser-'));
		this.process = spawn(
			browserPath,
			[
				'--headless=new',
				'--no-sandbox',
				'--disable-gpu',
				'--disable-dev-shm-usage',
				'--disable-background-networking',
				'--no-first-run',
				'--remote-debugging-pipe',
				`--user-data-dir=${path.join(this.folder, 'profile')}`,
			],
			{stdio: ['ignore', 'ignore', 'ignore', 'pipe', 'pipe']},
		);
		(this.process.stdio[4] as Readable).setEncoding('utf8').on('data', (text: string) => this.take(text));
	}

	/** Sends one command and resolves to its result. Rejects where the browser refuses it. */
	async send(method: string, params: object = {}, sessionId?: string): Promise<Readonly<Record<string, unknown>>> {
		const id = ++this.lastId;
		const answer = new Promise<Message>(resolve => this.waiting.set(id, resolve));
		(this.process.stdio[3] as Writable).write(`${JSON.stringify({id, method, params, sessionId})}\0`);
		const {result, error} = await answer;
		if (error) throw new Error(`${method}: ${error.message}`);
		return result ?? {};
	}

	/** Opens a file and waits until it has been drawn. */
	async open(
		file: string,
		{widthPixels = 1280, heightPixels = 900, scheme = 'light', isPhone = false, vision = 'none'}: Look = {},
	) {
		const {targetId} = await this.send('Target.createTarget', {url: 'about:blank'});
		const {sessionId} = (await this.send('Target.attachToTarget', {targetId, flatten: true})) as {sessionId: string};
		const page = new BrowserPage(this, sessionId, String(targetId));
		const loaded = new Promise<void>(resolve => {
			this.listeners.add(message => {
				if (message.sessionId !== sessionId) return;
				page.take(message.method ?? '', message.params ?? {});
				if (message.method === 'Page.loadEventFired') resolve();
			});
		});
		for (const domain of ['Page', 'Network', 'Log', 'Runtime']) await this.send(`${domain}.enable`, {}, sessionId);
		await this.send(
			'Emulation.setDeviceMetricsOverride',
			{width: widthPixels, height: heightPixels, deviceScaleFactor: isPhone ? 2 : 1, mobile: isPhone},
			sessionId,
		);
		await this.send(
			'Emulation.setEmulatedMedia',
			{features: [{name: 'prefers-color-scheme', value: scheme}]},
			sessionId,
		);
		await this.send('Emulation.setEmulatedVisionDeficiency', {type: vision}, sessionId);
		await this.send('Page.navigate', {url: `file://${path.resolve(file)}`}, sessionId);
		await loaded;
		return page;
	}

	async close(): Promise<void> {
		const gone = new Promise(resolve => this.process.once('exit', resolve));
		void this.send('Browser.close').catch(() => undefined);
		await gone;
		rmSync(this.folder, {recursive: true, force: true, maxRetries: 3});
	}

	private take(text: string): void {
		const parts = (this.pending + text).split('\0');
		this.pending = parts.pop() ?? '';
		for (const part of parts) {
			const message = JSON.parse(part) as Message;
			if (message.id === undefined) for (const listen of this.listeners) listen(message);
			else {
				this.waiting.get(message.id)?.(message);
				this.waiting.delete(message.id);
			}
		}
	}
}

/** One page that is open. */
export class BrowserPage {
	/** What the page asked for, itself first. */
	readonly asked: string[] = [];
	/** What the browser complained about, or the page wrote to the console. */
	readonly said: string[] = [];
	private readonly browser: Browser;
	private readonly session: string;
	private readonly target: string;

	constructor(browser: Browser, session: string, target: string) {
		this.browser = browser;
		this.session = session;
		this.target = target;
	}

	/** Takes an event of the browser about this page. */
	take(method: string, params: Readonly<Record<string, unknown>>): void {
		if (method === 'Network.requestWillBeSent') this.asked.push((params.request as {url: string}).url);
		else if (method === 'Log.entryAdded') this.said.push((params.entry as {text: string}).text);
		else if (method === 'Runtime.consoleAPICalled') this.said.push(JSON.stringify(params.args));
		else if (method === 'Runtime.exceptionThrown') this.said.push(JSON.stringify(params.exceptionDetails));
	}

	/** The value of an expression in the page, as JSON can carry it. The policy of the page does not hold for it. */
	async evaluate(expression: string): Promise<unknown> {
		const {result} = await this.browser.send(
			'Runtime.evaluate',
			{expression, returnByValue: true, awaitPromise: true},
			this.session,
		);
		return (result as {value?: unknown}).value;
	}

	/** A stretch of the page as a PNG, in CSS pixels from its top. */
	async screenshot(y: number, widthPixels: number, heightPixels: number): Promise<Buffer> {
		const {data} = await this.browser.send(
			'Page.captureScreenshot',
			{
				format: 'png',
				captureBeyondViewport: true,
				clip: {x: 0, y, width: widthPixels, height: heightPixels, scale: 1},
			},
			this.session,
		);
		return Buffer.from(String(data), 'base64');
	}

	/** The page as it is printed on A4, a PDF. */
	async print(): Promise<Buffer> {
		const {data} = await this.browser.send(
			'Page.printToPDF',
			{paperWidth: 8.27, paperHeight: 11.69, printBackground: false},
			this.session,
		);
		return Buffer.from(String(data), 'base64');
	}

	async close(): Promise<void> {
		await this.browser.send('Target.closeTarget', {targetId: this.target});
	}
}
