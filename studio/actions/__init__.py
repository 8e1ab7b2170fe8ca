from studio.actions.history import change, check, create, plain, put_away, record_change, touch

__all__ = ["change", "check", "create", "plain", "put_away", "record_change", "touch"]
