/**
 * Something the user asked for cannot be done. `message` is one line for stderr: what, why, what to try.
 * The command line prints it and exits with status 2; anything else that is thrown is a defect.
 */
export class CannotError extends Error {
	override name = 'CannotError';
}
