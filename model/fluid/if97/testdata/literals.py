"""The numbers written in the source of the independent library iapws, without
sign, one a line: TestCoefficients looks for its own among them."""
import ast
import inspect
import sys

try:
    from iapws import iapws97
except ImportError:
    sys.exit(3)

for node in ast.walk(ast.parse(inspect.getsource(iapws97))):
    if isinstance(node, ast.Constant) and isinstance(node.value, float):
        print(repr(node.value))
