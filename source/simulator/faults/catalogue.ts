import type {FaultModel} from '../fault-model.ts';
import {everyModel} from './every-model.ts';

/** Every fault that can be injected, by the code of its finding. */
export const faultModels: ReadonlyMap<string, FaultModel> = new Map(everyModel.map(model => [model.code, model]));
