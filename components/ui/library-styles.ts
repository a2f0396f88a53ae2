// The styles of what is used of the library, in the order of its own whole sheet, which is twice as long: a browser reads
// all of it before it paints. tests/unit/ui/library-styles.test.ts names what is missing.
// biome-ignore-start assist/source/organizeImports: in the order of the library's sheet
import '@mantine/core/styles/baseline.layer.css';
import '@mantine/core/styles/default-css-variables.layer.css';
import '@mantine/core/styles/global.layer.css';
import '@mantine/core/styles/ScrollArea.layer.css';
import '@mantine/core/styles/UnstyledButton.layer.css';
import '@mantine/core/styles/VisuallyHidden.layer.css';
import '@mantine/core/styles/Paper.layer.css';
import '@mantine/core/styles/Overlay.layer.css';
import '@mantine/core/styles/Popover.layer.css';
import '@mantine/core/styles/Loader.layer.css';
import '@mantine/core/styles/ActionIcon.layer.css';
import '@mantine/core/styles/CloseButton.layer.css';
import '@mantine/core/styles/Group.layer.css';
import '@mantine/core/styles/ModalBase.layer.css';
import '@mantine/core/styles/Input.layer.css';
import '@mantine/core/styles/Text.layer.css';
import '@mantine/core/styles/Anchor.layer.css';
import '@mantine/core/styles/Combobox.layer.css';
import '@mantine/core/styles/InlineInput.layer.css';
import '@mantine/core/styles/CheckboxCard.layer.css';
import '@mantine/core/styles/CheckboxIndicator.layer.css';
import '@mantine/core/styles/Checkbox.layer.css';
import '@mantine/core/styles/Button.layer.css';
import '@mantine/core/styles/Code.layer.css';
import '@mantine/core/styles/Divider.layer.css';
import '@mantine/core/styles/Drawer.layer.css';
import '@mantine/core/styles/Modal.layer.css';
import '@mantine/core/styles/Pill.layer.css';
import '@mantine/core/styles/PillsInput.layer.css';
import '@mantine/core/styles/Notification.layer.css';
import '@mantine/core/styles/NumberInput.layer.css';
import '@mantine/core/styles/PasswordInput.layer.css';
import '@mantine/core/styles/Progress.layer.css';
import '@mantine/core/styles/RadioCard.layer.css';
import '@mantine/core/styles/RadioIndicator.layer.css';
import '@mantine/core/styles/Radio.layer.css';
import '@mantine/core/styles/SimpleGrid.layer.css';
import '@mantine/core/styles/Slider.layer.css';
import '@mantine/core/styles/Stack.layer.css';
import '@mantine/core/styles/Switch.layer.css';
import '@mantine/core/styles/Table.layer.css';
import '@mantine/core/styles/Title.layer.css';
import '@mantine/notifications/styles.layer.css';
// biome-ignore-end assist/source/organizeImports: in the order of the library's sheet
