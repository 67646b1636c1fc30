declare module "virtual:sources" {
  const sources: Record<string, string>;
  export default sources;
}
declare module "virtual:zones" {
  const zones: Record<string, [number, number]>;
  export default zones;
}
declare module "virtual:kinds" {
  export interface Named {
    id: string;
    value: string;
    en: string;
    es: string;
  }
  const kinds: { foods: Named[]; composts: Named[] };
  export default kinds;
}
