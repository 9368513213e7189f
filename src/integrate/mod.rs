//! Time integration: tolerances, events, dense output. Knows no physics.
