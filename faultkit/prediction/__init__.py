"""Every cause by every test: expected readings, spreads and symptoms, cached on disk."""

from faultkit.prediction.predict import predict
from faultkit.prediction.table import Prediction

__all__ = ["Prediction", "predict"]
