// Standing beside a brew: what to do next, one key to log, and the band that narrows as readings come.
import { route } from "../route";
import { say } from "../words/words";
import { Part, Fold } from "../pieces/fields";
import { Froth } from "../pieces/froth";
import { NightPicture, NightTable } from "../picture/night_picture";
import { LifePicture } from "../picture/life_picture";
import { lifeOf, nightOf } from "../picture/of_answer";
import { away, clock } from "../words/time";
import { now } from "../now/clock";
import { elapsed, nextStep } from "../now/page";
import { brews, dotsOf, forecastOf, observationsOf, photosOf, readingsOf } from "./brew";
import { LookForm, ReadingForm } from "./log_forms";
import { Logged } from "./logged";
import { Steps } from "./steps";
import { countsOf } from "./counted";
import { Counts } from "./counts";
import { Ending } from "./ending";
import { Verdict } from "./verdict";
import { AirOnNow } from "./air_on_now";
import { Amounts } from "../plan/answer";

export function BrewPage() {
  const [id = "", what = ""] = route.value.rest;
  const { all, known } = brews();
  const brew = all.find((each) => each.id === id || each.now.id === id);
  if (!brew) {
    return (
      <div class="page">
        <h1 class="sentence">{known ? say("brew.unknown") : say("now.looking")}</h1>
        {known ? <><p>{say("brew.unknown_next")}</p><a class="main" href="#/now">{say("page.to_now")}</a></> : null}
      </div>
    );
  }
  if (what === "reading") return <ReadingForm brew={brew} />;
  if (what === "look") return <LookForm brew={brew} />;

  const readings = readingsOf(brew);
  const told = forecastOf(brew, readings);
  const forecast = told.answer;
  const next = forecast ? nextStep(forecast) : null;
  const night = forecast ? nightOf(forecast, { zone: brew.zone, now: now.value, dots: dotsOf(readings, forecast) }) : null;
  const reading = forecast?.next_reading[0];
  return (
    <div class="brew">
      <div class="brew-now">
        <h1 class="hidden">{brew.name}</h1>
        <p><strong>{brew.name}</strong> <span class="quiet">{elapsed(brew)}</span></p>
        {told.refusals.length > 0 ? <div class="refusal" role="alert">{told.refusals.map((each, index) => <p key={index}>{each.text} {each.next}</p>)}</div> : null}
        {told.old ? <p class="quiet" role="status">{say("brew.old_forecast")}</p> : null}
        {brew.plan ? null : <p>{say("brew.no_plan")}</p>}
        {forecast && night ? (
          <>
            <p class={`sentence ${forecast.verdict}`} aria-live="polite">{forecast.headline}</p>
            <NightPicture night={night} />
            {reading?.at && Date.parse(reading.at) > now.value ? (
              <p class="next-reading">◌ {say(`next.${reading.what === "temperature" ? "temperature" : reading.what === "bacteria" ? "bacteria" : reading.what === "protozoa" ? "protozoa" : "oxygen"}`, {
                at: clock(Date.parse(reading.at), brew.zone), away: away(Date.parse(reading.at), now.value), share: Math.round(100 * (reading.narrows_share ?? 0)),
              })}</p>
            ) : null}
          </>
        ) : null}
        <div class="deeds">
          <a class="main" href={`#/brew/${brew.id}/reading`}>{say("brew.log_reading")}</a>
          <a class="main second" href={`#/brew/${brew.id}/look`}>{say("brew.log_look")}</a>
        </div>
      </div>
      <div class="brew-work">
        {now.value < brew.on ? <AirOnNow brew={brew} /> : null}
        {next ? <p class="next"><strong>{clock(next.at, brew.zone)}</strong> <span class="quiet">{away(next.at, now.value)}</span><br />{next.text}</p> : null}
        <Verdict brew={brew} seen={[...readings, ...observationsOf(brew), ...countsOf(brew)]} />
        {forecast ? <Part heading={say("plan.steps")}><Steps brew={brew} steps={forecast.steps} /></Part> : null}
        {forecast ? <Part heading={say("plan.measure_out")}><Amounts told={forecast} /></Part> : null}
        <Part heading={say("brew.logged")}><Logged brew={brew} readings={readings} observations={observationsOf(brew)} photos={photosOf(brew)} told={forecast} /></Part>
        <Counts brew={brew} readings={readings} told={forecast} />
        <Ending brew={brew} />
        {forecast && night ? (
          <>
            <Froth holds={forecast.probability_oxygen_stays_above_6 ?? 0} flat={forecast.probability_oxygen_below_2 ?? 0} />
            <Fold heading={say("plan.life")}><LifePicture life={lifeOf(forecast, brew.zone)} /></Fold>
            <Fold heading={say("picture.table")}><NightTable night={night} /></Fold>
            <Fold heading={say("plan.care")}><ul class="plain-list">{forecast.cautions.map((each) => <li key={each.code}>{each.text}</li>)}</ul></Fold>
          </>
        ) : null}
      </div>
    </div>
  );
}
