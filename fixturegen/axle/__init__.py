"""The idealized axle as numbers: datums, envelopes, frames."""
