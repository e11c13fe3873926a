"""design"""
