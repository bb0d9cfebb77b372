import type { Gauge, Rig } from "./rig.ts";

/** What a gauge can tell of the bottle follows from the side of the valves on which it sits. */

export const findGauge = (rig: Rig, id: string): Gauge | undefined =>
  rig.gauges.find((gauge) => gauge.id === id);

/** A gauge that the rig does not know is never taken for the supply's: it is judged as the bottle is. */
export const isOnSupply = (rig: Rig, id: string): boolean =>
  id === rig.supply.gauge || findGauge(rig, id)?.side === "supply";

export const isOnBottle = (rig: Rig, id: string): boolean => findGauge(rig, id)?.side === "bottle";

/** Whether its zero is part of the evidence that the bottle is empty; any other gauge proves nothing there. */
export const tellsOfEmptiness = (rig: Rig, id: string): boolean =>
  isOnBottle(rig, id) || (rig.emptying.kind === "vent" && id === rig.emptying.lineGauge);
