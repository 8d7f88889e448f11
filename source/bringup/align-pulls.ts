import type {Pull} from './pull-tracker.ts';

/** A finger that was left out, and a group that belongs to none, cost more than a finger answered by another's channel. */
const skipFinger = 1.1;
const skipGroup = 1.1;
/** A single stray pull among groups of several. */
const skipStray = 0.6;

type Group = {readonly column: number; readonly pulls: Pull[]};

/**
 * Tells which finger each pull of a recording was for, where nobody noted what was asked: fingers are taken one after
 * the other, each as often as it was, and the reading with the fewest surprises wins. A finger whose channel is dead
 * leaves no pulls: those after it must not be taken for its.
 *
 * `own[i]` is the column that finger `i` should answer on. Gives the pulls of every finger, in order.
 */
export function alignPulls(pulls: readonly Pull[], own: readonly number[]): Pull[][] {
	const groups = groupsOf(pulls);
	const hasSeveral = groups.some(group => group.pulls.length > 1);
	// cost[i][j]: of explaining the first i groups by the first j fingers.
	const cost = Array.from({length: groups.length + 1}, () => new Array<number>(own.length + 1).fill(0));
	const skipping = (group: Group) => (hasSeveral && group.pulls.length === 1 ? skipStray : skipGroup);
	const matching = (i: number, j: number) => (groups[i].column === own[j] ? 0 : 1);
	for (let i = 0; i <= groups.length; i++) {
		for (let j = 0; j <= own.length; j++) {
			if (i === 0 && j === 0) continue;
			cost[i][j] = Math.min(
				i > 0 && j > 0 ? cost[i - 1][j - 1] + matching(i - 1, j - 1) : Number.POSITIVE_INFINITY,
				i > 0 ? cost[i - 1][j] + skipping(groups[i - 1]) : Number.POSITIVE_INFINITY,
				j > 0 ? cost[i][j - 1] + skipFinger : Number.POSITIVE_INFINITY,
			);
		}
	}

	const answers: Pull[][] = own.map(() => []);
	let i = groups.length;
	let j = own.length;
	while (i > 0 && j > 0) {
		if (cost[i][j] === cost[i - 1][j - 1] + matching(i - 1, j - 1)) answers[--j] = groups[--i].pulls;
		else if (cost[i][j] === cost[i - 1][j] + skipping(groups[i - 1])) i--;
		else j--;
	}

	return answers;
}

/** Neighbouring pulls of one column; a stray pull between two of another column does not part them. */
function groupsOf(pulls: readonly Pull[]): Group[] {
	const groups: Group[] = [];
	pulls.forEach((pull, i) => {
		const last = groups[groups.length - 1];
		if (last?.column === pull.column) last.pulls.push(pull);
		else if (!(last && last.pulls.length > 1 && pulls[i + 1]?.column === last.column)) {
			groups.push({column: pull.column, pulls: [pull]});
		}
	});
	return groups;
}
