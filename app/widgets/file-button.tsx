import type { ComponentChildren } from "preact";

type Props = {
  readonly multiple?: boolean;
  readonly class?: string;
  readonly onFiles: (files: readonly File[]) => void;
  readonly children: ComponentChildren;
};

/** A button that opens the device's own choice of files; the same file may be chosen again. */
export const FileButton = ({ multiple, class: name = "button", onFiles, children }: Props) => (
  <label class={name}>
    {children}
    <input
      type="file"
      multiple={multiple ?? false}
      class="unseen"
      onChange={({ currentTarget }) => {
        onFiles([...(currentTarget.files ?? [])]);
        currentTarget.value = "";
      }}
    />
  </label>
);
