// A hundred brews like this, a bubble each: those that hold, those that run low, those that go flat. The words stand below.
import { say } from "../words/words";

export function Froth({ holds, flat }: { holds: number; flat: number }) {
  const held = Math.round(100 * holds);
  const gone = Math.min(100 - held, Math.round(100 * flat));
  const low = 100 - held - gone;
  return (
    <figure class="froth">
      <svg viewBox="0 0 500 44" role="img" aria-label={say("froth.says", { held, low, gone })}>
        {Array.from({ length: 100 }, (_, index) => {
          const x = 5.5 + (index % 50) * 9.95;
          const y = index < 50 ? 12 : 32;
          const kind = index < held ? "holds" : index < held + low ? "low" : "gone";
          return kind === "gone"
            ? <path key={index} class="gone" d={`M${x - 3} ${y - 3}l6 6m0 -6l-6 6`} />
            : <circle key={index} class={kind} cx={x} cy={y} r={kind === "holds" ? 4.2 : 3.4} />;
        })}
      </svg>
      <figcaption>
        <span class="fit">{say("froth.held", { held })}</span>
        {low > 0 ? <span class="caution">{say("froth.low", { low })}</span> : null}
        {gone > 0 ? <span class="stop">{say("froth.gone", { gone })}</span> : null}
      </figcaption>
    </figure>
  );
}
