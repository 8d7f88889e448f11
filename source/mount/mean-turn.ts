import {symmetricEigen} from './linear.ts';
import {type Quaternion, upright} from './rotation.ts';

/**
 * The mean of rotations: the eigenvector of Σ q qᵀ that belongs to its largest eigenvalue. Signs of quaternions do not matter.
 *
 * Source: Markley, Cheng, Crassidis and Oshman, Journal of Guidance, Control, and Dynamics 30 (2007), 1193–1197.
 */
export function meanTurn(turns: Iterable<Quaternion>): Quaternion {
	const sum = [0, 1, 2, 3].map(() => [0, 0, 0, 0]);
	for (const q of turns) {
		for (let row = 0; row < 4; row++) for (let column = 0; column < 4; column++) sum[row][column] += q[row] * q[column];
	}
	return upright(symmetricEigen(sum).vectors[0] as unknown as Quaternion);
}
