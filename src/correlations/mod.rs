//! Nusselt numbers, friction, radiation, draught: plain functions without state.
