import type { Verdict } from '../../diagnosis/verdict/finding.js';
import { coordinate } from './coordinate.js';

interface FindingMarkProps {
  readonly verdict: Verdict;
  readonly x: number;
  readonly y: number;
  readonly number: number;
}

/** A finding's number in a shape that tells its verdict without colour: filled square, circle, thin dashed circle. */
export function FindingMark({ verdict, x, y, number }: FindingMarkProps) {
  const cx = coordinate(x);
  const cy = coordinate(y);
  const shape =
    verdict === 'move' ? (
      <rect x={coordinate(cx - 8.5)} y={coordinate(cy - 8.5)} width="17" height="17" rx="2" fill="#1a1a1a" />
    ) : (
      <circle
        cx={cx}
        cy={cy}
        r="8.5"
        fill="#fff"
        stroke={verdict === 'equalize' ? '#1a1a1a' : '#777'}
        stroke-width={verdict === 'equalize' ? 1.6 : 1}
        {...(verdict === 'leave' ? { 'stroke-dasharray': '2 2' } : {})}
      />
    );
  return (
    <g>
      {shape}
      <text
        x={cx}
        y={coordinate(cy + 3.8)}
        font-size={number > 9 ? 9.5 : 11}
        font-weight="600"
        text-anchor="middle"
        fill={verdict === 'move' ? '#fff' : verdict === 'leave' ? '#555' : '#1a1a1a'}
      >
        {number}
      </text>
    </g>
  );
}
