"""year"""
