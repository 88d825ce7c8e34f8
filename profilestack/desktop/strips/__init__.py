"""The strips over and under the section, which share its x to the pixel."""
