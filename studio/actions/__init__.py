from studio.actions.history import change, check, create, plain, record_change, touch

__all__ = ["change", "check", "create", "plain", "record_change", "touch"]
