"""catalog"""
