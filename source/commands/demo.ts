import type {CommandIo} from '../command-line/command-io.ts';
import type {LiveDeskOptions} from '../dashboard/open-desk.ts';
import type {ShowOptions} from '../dashboard/show-desk.ts';
import type {ReportFormat} from './check.ts';

type DemoOptions = ReportFormat & ShowOptions & LiveDeskOptions;

/**
 * `demo`: the dashboard on a simulated glove whose faults come and go. Without a terminal on stdout it prints `check`'s
 * report on one round of the same session instead. Resolves to 0 when it ran: its faults are intended.
 */
export async function demoCommand(options: DemoOptions, io: CommandIo): Promise<number> {
	const [{demoName, demoRoundSeconds, demoSpec}, {simulatorSource}] = await Promise.all([
		import('../simulator/demo.ts'),
		import('../sources/simulator-source.ts'),
	]);
	const {signal} = io;
	const open = (durationSeconds: number, paced: boolean) => {
		const spec = demoSpec(durationSeconds);
		return {
			source: simulatorSource(spec, {paced, signal, name: demoName}),
			session: {fullScale: spec.declared?.fullScale ?? null},
			sheet: undefined,
		};
	};

	if (!io.stdout.isTTY) {
		const {checkSource} = await import('./check.ts');
		const {source, session} = open(demoRoundSeconds, false);
		await checkSource(source, session, options, io);
		return 0;
	}

	const [{openLiveDesk}, {showDesk}] = await Promise.all([
		import('../dashboard/open-desk.ts'),
		import('../dashboard/show-desk.ts'),
	]);
	const tryNext = 'Try next: glovebench ports, then glovebench attach PORT with a glove of your own.';
	const desk = await openLiveDesk([open(Number.POSITIVE_INFINITY, true)], {...options, tryNext});
	return showDesk(desk, options, io);
}
