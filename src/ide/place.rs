//! What stands at a place.
