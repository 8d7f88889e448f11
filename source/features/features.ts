/** Everything measured from the frames so far; what the detectors look at. */
export class Features {}
