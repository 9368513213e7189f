//! Nodes and links: state layout, right-hand side, observation, balances.
