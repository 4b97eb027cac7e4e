import type { Objective } from '../objective/objective.js';
import type { Engine } from './engine.js';
import { typescriptEngine } from './typescriptEngine.js';
import { webAssemblyEngine } from './webAssemblyEngine.js';

/**
 * The engine for an objective until another one is asked for: WebAssembly where the place allows it, else the same sums
 * in TypeScript. Both give the same digits.
 */
export function engineFor(objective: Objective): Engine {
  return webAssemblyEngine(objective) ?? typescriptEngine(objective);
}
