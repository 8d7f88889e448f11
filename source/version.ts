import manifest from '../package.json' with {type: 'json'};

/** Name, version and one-line description of this program. */
export const tool = {name: manifest.name, version: manifest.version, description: manifest.description} as const;
