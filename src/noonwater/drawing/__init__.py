"""drawing"""
