/** What the checks use of psychrolib, which brings no types: SI units are °C, m and Pa. */
declare module 'psychrolib' {
  const psychrolib: {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    GetStandardAtmPressure(altitude: number): number;
    GetSatVapPres(dryBulb: number): number;
  };
  export default psychrolib;
}
