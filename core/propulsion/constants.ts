/** Gas constant of dry air, J/(kg K). ISO 2533:1975, US Standard Atmosphere 1976. */
export const airGasConstant_J_kgK = 287.05287;

/** Ratio of the specific heats of air; ISO 2533:1975. The closed forms of the air phase rest on it being 7/5. */
export const heatCapacityRatio = 1.4;

/** Standard gravity, exact; specific impulse is defined with it whatever the local gravity. ISO 80000-3. */
export const standardGravity_m_s2 = 9.80665;

/** 0 °C, exact by definition of the Celsius scale. */
export const icePoint_K = 273.15;
