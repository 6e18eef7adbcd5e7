import './evidence.css';
import '../survey/report.css';
import { useOpenView } from '../app/use-open-view.ts';
import { rankingWords } from '../ranking-words.ts';
import { SurveyTabs } from '../survey/survey-tabs.tsx';
import { EvidenceSection } from './evidence-section.tsx';

const say = rankingWords.evidence;

/** What people bring to a survey besides the map: traffic counts and beacons that are there already. */
export function EvidencePanel() {
  const survey = useOpenView();
  return (
    <>
      <SurveyTabs />
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard */}
      <section className="evidence" aria-label={say.title} tabIndex={0}>
        <h2>{say.title}</h2>
        <p className="muted">{say.intro}</p>
        {survey !== undefined && (
          <>
            <EvidenceSection key={`${survey.id} traffic`} kind="traffic" survey={survey} />
            <EvidenceSection key={`${survey.id} existing`} kind="existing" survey={survey} />
          </>
        )}
      </section>
    </>
  );
}
