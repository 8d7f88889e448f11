// The long run of the fuzzers: ten million random bytes, a line of a gigabyte, a million labels, tens of thousands of
// damaged files. Prints what was tried; ends with status 1 at the first throw that is no CannotError.
// Usage: node tests/hard/long.mjs [--seed N] [--tries N] [--only WORDS of a job's name]
process.argv.splice(2, 0, 'tests/hard/long.ts');
await import('../tools/run.mjs');
