import {
  addScalarDependencies,
  create,
  divideScalarDependencies,
  type FactoryFunctionMap,
  isConstantNode,
  isOperatorNode,
  isParenthesisNode,
  isSymbolNode,
  isUnit,
  type MathNode,
  multiplyScalarDependencies,
  parseDependencies,
  powDependencies,
  type Unit,
  type UnitCtor,
  unaryMinusDependencies,
  unitDependencies,
} from 'mathjs';
import type { Expression } from './scanExpression.js';
import { allUnitTables, temperatureUnits, type UnitTable } from './unitTables.js';

// Only `loadUnitEngine` imports this file, since mathjs is slow to load.

/**
 * Reckons what the unit tables cannot read.
 *
 * @param expression what a person wrote, scanned
 * @param table kind of quantity that is wanted
 * @param refuse told, where there is something to say, why there is no such quantity ("no unit "x" is known")
 * @returns the value in the SI unit of `table`, finite
 */
export type UnitEngine = (
  expression: Expression,
  table: UnitTable,
  refuse: (reason?: string) => never,
) => number;

type Value = number | Unit;
type Reckon = (a: Value, b: Value) => Value;

interface ScalarMath {
  readonly parse: (text: string) => MathNode;
  readonly Unit: UnitCtor;
  readonly addScalar: Reckon;
  readonly multiplyScalar: Reckon;
  readonly divideScalar: Reckon;
  readonly pow: (a: Value, exponent: number) => Value;
  readonly unaryMinus: (a: Value) => Value;
}

const math = create({
  addScalarDependencies,
  divideScalarDependencies,
  multiplyScalarDependencies,
  parseDependencies,
  powDependencies,
  unaryMinusDependencies,
  unitDependencies,
} as FactoryFunctionMap) as unknown as ScalarMath;

const MAX_EXPONENT = 9;

/**
 * Parses and reckons with mathjs. What it parses holds no word that a person wrote, only u0, u1, …; its tree is
 * walked here and never compiled, so that nothing but the arithmetic below can happen, whatever was written.
 */
export const reckonUnits: UnitEngine = (expression, table, refuse) => {
  const units = new Map<string, Unit>(
    expression.units.map((word, index) => [`u${index}`, unitOf(word, table, refuse)]),
  );

  const reckon = (node: MathNode): Value => {
    if (isParenthesisNode(node)) return reckon(node.content);
    if (isConstantNode(node) && typeof node.value === 'number') return node.value;
    if (isSymbolNode(node)) return units.get(node.name) ?? refuse();
    if (!isOperatorNode(node)) return refuse();
    const [left, right] = node.args as MathNode[];
    if (left === undefined) return refuse();
    const a = reckon(left);
    if (right === undefined) {
      if (node.op === '-') return math.unaryMinus(a);
      return node.op === '+' ? a : refuse();
    }
    const b = reckon(right);
    switch (node.op as string) {
      case '+':
      case '-':
        if (!isSameKind(a, b)) return refuse('its parts are of different kinds or lack a unit');
        return node.op === '+' ? math.addScalar(a, b) : math.addScalar(a, math.unaryMinus(b));
      case '*':
        if (node.implicit && !isUnitName(right)) return refuse('an operator is missing in it');
        return math.multiplyScalar(a, b);
      case '/':
        return math.divideScalar(a, b);
      case '^':
        if (typeof b !== 'number' || !Number.isInteger(b) || Math.abs(b) > MAX_EXPONENT) {
          return refuse(`an exponent in it is no whole number up to ${MAX_EXPONENT}`);
        }
        return math.pow(a, b);
      default:
        return refuse();
    }
  };

  const value = toSi(reckon(parsed(expression.formula, refuse)), expression.units, table, refuse);
  return Number.isFinite(value) ? value : refuse('its value is not finite');
};

function parsed(formula: string, refuse: (reason?: string) => never): MathNode {
  try {
    return math.parse(formula);
  } catch (error) {
    if (error instanceof SyntaxError) return refuse();
    throw error;
  }
}

/** A number without any unit is in the SI unit, here as elsewhere; a ratio of two quantities is none. */
function toSi(
  value: Value,
  units: readonly string[],
  table: UnitTable,
  refuse: (reason?: string) => never,
): number {
  if (typeof value === 'number' && units.length === 0) return value;
  if (!isUnit(value) || !value.equalBase(siUnit(table, refuse))) {
    return refuse('it is another kind of quantity');
  }
  return value.toNumber(table.si);
}

/** One `word`: as the wanted kind spells it, as mathjs does, or as another kind does. */
function unitOf(word: string, table: UnitTable, refuse: (reason?: string) => never): Unit {
  const spelling = word.toLowerCase();
  const mathName = word.replace('µ', 'u');
  if (!table.units.has(spelling) && math.Unit.isValuelessUnit(mathName)) {
    const unit = new math.Unit(1, mathName);
    // A degree with a zero of its own has no sums, nor products: 20 °C is not twice 10 °C.
    return new math.Unit(0, mathName).toSI().toNumeric() === 0 ? unit : refuse(noReckoning(word));
  }
  const spelledBy = [table, ...allUnitTables].find(({ units }) => units.has(spelling));
  const scale = spelledBy?.units.get(spelling);
  if (!spelledBy || !scale) return refuse(`no unit "${word}" is known`);
  if (spelledBy === temperatureUnits) return refuse(noReckoning(word));
  return math.multiplyScalar(scale.factor, siUnit(spelledBy, refuse)) as Unit;
}

const noReckoning = (word: string) => `a temperature in ${word} cannot be reckoned with`;

const siUnit = (table: UnitTable, refuse: (reason?: string) => never): Unit =>
  table.si === undefined ? refuse() : new math.Unit(1, table.si);

const isSameKind = (a: Value, b: Value): boolean =>
  isUnit(a) && isUnit(b) ? a.equalBase(b) : typeof a === 'number' && typeof b === 'number';

/** "s" or "s^-1", which may follow without an operator: "343 m s^-1". */
function isUnitName(node: MathNode): boolean {
  if (isOperatorNode(node) && (node.op as string) === '^') return isUnitName(node.args[0] as MathNode);
  return isSymbolNode(node);
}
