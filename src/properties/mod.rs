//! Water, flue gas, wood, metals, masonry: data with range and source.
