// Loaded with --require: tells the process's peak resident memory when it ends.
process.on('exit', () => {
	process.stderr.write(`peak ${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB\n`);
});
