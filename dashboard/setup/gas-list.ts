/** Designations (ISO 14175) that a label is likely to name; any other can be typed. */
export const commonGases = [
  "I1-Ar",
  "M21-ArC-18",
  "M21-ArC-25",
  "M20-ArC-8",
  "M20-ArC-10",
  "M12-ArC-2",
  "M13-ArO-2",
  "I3-ArHe-25",
  "I3-ArHe-50",
  "I2-He",
  "C1-C",
  "N1-N",
  "R1-ArH-2",
  "R1-ArH-5",
  "N5-NH-5",
] as const;
