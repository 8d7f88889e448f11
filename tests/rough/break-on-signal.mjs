// Preloaded into the program (`NODE_OPTIONS=--import=…`): at SIGUSR2 something breaks in it that no input can break.
// BREAK names what: a timer, a promise, or every call of some built-in functions from within a function of that name.
const where = process.env.BREAK;
const broken = () => new TypeError('broken on purpose');

const breakWithin = (object, name) => {
	const whole = object[name];
	object[name] = function (...given) {
		// Every time: React tries a component that threw once more before it gives up.
		if (new Error('where').stack.includes(where)) throw broken();
		return whole.apply(this, given);
	};
};

process.on('SIGUSR2', () => {
	if (where === 'timer') {
		setTimeout(() => {
			throw broken();
		}, 1);
	} else if (where === 'promise') {
		void Promise.reject(broken());
	} else {
		breakWithin(Array, 'from');
		breakWithin(Array.prototype, 'map');
		breakWithin(String.prototype, 'padStart');
	}
});
