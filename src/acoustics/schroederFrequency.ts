/**
 * Frequency in Hz above which a room's modes overlap so densely that single ones no longer stand out:
 * 2000·√(T60/V), T60 in s and V in m³ (Kuttruff, Room Acoustics, ch. 3).
 */
export function schroederFrequencyHz(reverberationS: number, volumeM3: number): number {
  return 2000 * Math.sqrt(reverberationS / volumeM3);
}
