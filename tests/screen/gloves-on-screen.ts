import {FolderOnScreen} from './folder-on-screen.ts';
import {NetworkGloves} from './network-gloves.ts';

/** Gloves on the network, and the program in front of them on a screen. */
export class GlovesOnScreen extends FolderOnScreen {
	readonly gloves = new NetworkGloves();

	override dispose(): void {
		super.dispose();
		this.gloves.close();
	}
}
