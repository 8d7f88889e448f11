import {spawnSync} from 'node:child_process';
import {type LinkAccount, LinkAccountant} from '../../source/link/link-account.ts';
import {linkLayout} from './link-layout.ts';

/** Specification C's generator W, word for word. */
const generatorW =
	'BEGIN{srand(3);for(n=0;n<18000;n++){t=n/60;d=1+19*(1-(t>150?t-150:150-t)/150);p=.0005*exp(d/3.2);w=.008-.004*log(1-rand());if(rand()<2*p)w+=.08*rand();if(rand()<p)continue;a=t+w;if(a<l+.0002)a=l+.0002;l=a;s=300*sin(2*t);printf "%.4f %d,%d,%d,%d,%d,%d,%d,511,511,0,0\\n",a,n,t*1000,500+s,510+s,520+.9*s,480+s,490+.95*s}}';
const version = spawnSync('mawk', ['-W', 'version'], {encoding: 'utf8'});
export const hasMawk = version.stdout?.startsWith('mawk 1.3.4') === true;

/** The account of its 300 s in windows of 20 s. */
export function accountOfW(): LinkAccount {
	const {stdout} = spawnSync('mawk', [generatorW], {encoding: 'utf8', maxBuffer: 2 ** 24});
	const account = new LinkAccountant({windowSeconds: 20, isTimed: true});
	account.layout(linkLayout);
	for (const line of stdout.trimEnd().split('\n')) {
		const [t, ...values] = line.split(/[ ,]/).map(Number);
		account.frame(t, Float64Array.from(values));
	}

	return account.account(300);
}
