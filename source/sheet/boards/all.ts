import type {Board} from '../board.ts';
import {atmega328p} from './atmega328p.ts';
import {esp32} from './esp32.ts';
import {esp32c3} from './esp32-c3.ts';
import {esp32s3} from './esp32-s3.ts';
import {nrf52840} from './nrf52840.ts';
import {rp2040} from './rp2040.ts';

/** Every board family that is known; nothing else lists them. */
export const boards: readonly Board[] = [atmega328p, esp32, esp32s3, esp32c3, rp2040, nrf52840];

/** The board of a family name, or undefined (also for `other`). */
export function findBoard(family: string): Board | undefined {
	return boards.find(board => board.family === family);
}
