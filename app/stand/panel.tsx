import { BackPanel } from "./back-panel.tsx";
import { CrewPanel } from "./crew-panel.tsx";
import { ClearHold } from "./hold-screen.tsx";
import { LogPanel } from "./log-panel.tsx";
import { MorePanel, type Phone } from "./more-panel.tsx";
import { ReportPanel } from "./report-forms.tsx";
import { ReportsPanel } from "./reports-panel.tsx";
import { SkipPanel } from "./skip-panel.tsx";
import type { Panel, Turn } from "./turn.ts";
import { UnsavedPanel } from "./unsaved.tsx";

type Props = {
  readonly turn: Turn;
  readonly panel: Panel;
  readonly phone: Phone;
  /** Tries again to write what is not in the log. */
  readonly retry: () => void;
};

export function PanelContent({ turn, panel, phone, retry }: Props) {
  switch (panel.kind) {
    case "reports":
      return <ReportsPanel turn={turn} />;
    case "report":
      return <ReportPanel turn={turn} form={panel.form} />;
    case "more":
      return <MorePanel turn={turn} phone={phone} />;
    case "unsaved":
      return <UnsavedPanel turn={turn} retry={retry} />;
    case "log":
      return <LogPanel turn={turn} />;
    case "crew":
      return <CrewPanel turn={turn} />;
    case "clear-hold":
      return <ClearHold turn={turn} onBack={() => turn.show(undefined)} />;
    case "back":
      return <BackPanel turn={turn} scrub={panel.scrub} />;
    case "skip":
      return <SkipPanel turn={turn} step={panel.step} />;
    case "notice":
      return (
        <>
          <div class="hatch" />
          <h1 tabIndex={-1} class="act">
            {panel.title}
          </h1>
          <ul class="missing">
            {panel.lines.map(({ what, todo }) => (
              <li key={what}>
                <b>{what}</b> {todo}
              </li>
            ))}
          </ul>
        </>
      );
  }
}
