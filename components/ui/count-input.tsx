import { TextInput, type TextInputProps } from '@mantine/core';

type CountInputProps = Omit<TextInputProps, 'type' | 'value' | 'onChange'> & {
  /** Empty text where nothing is written. */
  value: number | string;
  onChange: (value: number | string) => void;
  min?: number;
  max?: number;
  step?: number;
};

/** A number in the browser's own control, for pages that bring most with them: the library's is 9 kB more. */
export function CountInput({ onChange, ...rest }: CountInputProps) {
  return (
    <TextInput
      {...rest}
      type="number"
      inputMode="decimal"
      // The browser would turn the wheel of somebody who scrolls past into another number.
      onWheel={({ currentTarget }) => currentTarget.blur()}
      onChange={({ currentTarget: { value } }) => onChange(value === '' ? '' : Number(value))}
    />
  );
}
