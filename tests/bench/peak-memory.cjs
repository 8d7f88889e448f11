// Loaded with --require: tells the process's peak of resident memory when it ends.
process.on('exit', () => {
	process.stderr.write(`peak ${process.resourceUsage().maxRSS} KiB\n`);
});
